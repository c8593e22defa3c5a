import type { EngineConfig, SnapshotContent } from '../engine-types.ts';
import type { FigureKey, Reading } from '../circuit/types.ts';
import { propagate } from '../circuit/uncertainty.ts';
import { dischargeTemperature } from '../circuit/compressor-heat.ts';
import { refrigerant } from '../refrigerant/refrigerants.ts';
import { freshChannel } from './conditions.ts';
import type { FeatureKey, Uncertain } from './types.ts';

/** What is measured of each feature, SI, k = 2. Absent where a channel is missing or stale. */
export type Features = Partial<Readonly<Record<FeatureKey, Uncertain>>>;

/**
 * Efficiency of a healthy compressor as seen in its discharge temperature, and how far units and
 * clamps differ (k = 2): hermetic scroll and rotary compressors, shell losses included. Our own
 * estimate from common compressor data.
 */
const EFFICIENCY: Uncertain = { value: 0.72, u: 0.16 };

/** The features of a snapshot. */
export function featuresOf(content: SnapshotContent, config: EngineConfig): Features {
  const features: Partial<Record<FeatureKey, Uncertain>> = {};
  const take = (key: FeatureKey, reading: Uncertain | null | undefined, sign = 1): void => {
    if (reading === null || reading === undefined) return;
    features[key] = { value: sign * reading.value, u: reading.u };
  };
  const figure = (key: FigureKey): Reading | null => {
    const reading = content.figures[key];
    return reading === undefined || reading.marks.includes('stale') ? null : reading;
  };
  take('evaporating', figure('suctionSaturation'));
  take('superheat', figure('superheat'));
  take('condensing', figure('liquidSaturation'));
  take('subcooling', figure('subcooling'));
  take('discharge', freshChannel(content, 'dischargeLineTemp'));
  take('airChange', figure('airDrop'), config.mode === 'heating' ? -1 : 1);
  take('drierDrop', figure('drierDrop'));
  take('current', freshChannel(content, 'compressorCurrent'));
  take('compressorHeat', compressorHeat(content, config));
  return features;
}

/**
 * Discharge line temperature above what the compression between the measured ports would make of
 * it, K. Gas that leaks back inside the machine is compressed twice and comes out hotter.
 */
function compressorHeat(content: SnapshotContent, config: EngineConfig): Uncertain | null {
  const ports = [
    freshChannel(content, 'suctionPressure'),
    freshChannel(content, 'suctionLineTemp'),
    freshChannel(content, 'dischargePressure') ?? freshChannel(content, 'liquidPressure'),
    freshChannel(content, 'dischargeLineTemp'),
  ];
  const inputs = ports.map((r) => (r === null ? null : { value: r.value, u: r.u / 2 }));
  const known = inputs.filter((i) => i !== null);
  if (known.length < inputs.length) return null;
  const fluid = refrigerant(config.refrigerant);
  if (config.mode === 'heating' && maybeWet(content)) return null;
  const f = ([pS = NaN, tS = NaN, pD = NaN, tD = NaN, efficiency = NaN]: readonly number[]) =>
    tD -
    dischargeTemperature(
      // Wet suction within the clamp's error is taken as saturated.
      {
        suctionPressure: pS,
        suctionTemp: Math.max(tS, fluid.curves.tDew(pS)),
        dischargePressure: pD,
      },
      efficiency,
      fluid,
    );
  const all = [...known, { value: EFFICIENCY.value, u: EFFICIENCY.u / 2 }];
  const value = f(all.map((i) => i.value));
  const u = 2 * propagate(f, all);
  return Number.isFinite(value) && Number.isFinite(u) ? { value, u } : null;
}

/** Superheat so small that the suction may be wet: with an accumulator that is usual in heating. */
function maybeWet(content: SnapshotContent): boolean {
  const superheat = content.figures.superheat;
  return superheat === undefined || superheat.value - superheat.u < 1;
}
