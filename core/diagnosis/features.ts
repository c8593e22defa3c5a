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
const EFFICIENCY: Uncertain = { value: 0.72, u: 0.12 };

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
  take('liquidApproach', liquidApproach(content, config));
  take('discharge', freshChannel(content, 'dischargeLineTemp'));
  take('airChange', figure('airDrop'), config.mode === 'heating' ? -1 : 1);
  take('drierDrop', figure('drierDrop'));
  take('current', freshChannel(content, 'compressorCurrent'));
  take('compressorHeat', compressorHeat(content, config));
  return features;
}

/**
 * Liquid line over the air that takes its heat (outdoor air in cooling, return air in heating), K:
 * the approach by which some makers judge the charge. It needs no pressure.
 */
function liquidApproach(content: SnapshotContent, config: EngineConfig): Uncertain | null {
  const liquid = freshChannel(content, 'liquidLineTemp');
  const air = freshChannel(content, config.mode === 'cooling' ? 'outdoorAirTemp' : 'returnAirTemp');
  if (liquid === null || air === null) return null;
  return { value: liquid.value - air.value, u: Math.hypot(liquid.u, air.u) };
}

/**
 * Discharge line temperature above what the compression between the measured ports would make of
 * it, K. Gas that leaks back inside the machine is compressed twice and comes out hotter. What
 * healthy compressors differ by is no part of its uncertainty: see {@link compressorHeatDoubt}.
 */
function compressorHeat(content: SnapshotContent, config: EngineConfig): Uncertain | null {
  if (config.mode === 'heating' && maybeWet(content)) return null;
  const ports = portsOf(content);
  if (ports === null) return null;
  const f = overCompression(EFFICIENCY.value, config);
  const value = f(ports.map((port) => port.value));
  const u =
    2 *
    propagate(
      f,
      ports.map((port) => ({ value: port.value, u: port.u / 2 })),
    );
  return Number.isFinite(value) && Number.isFinite(u) ? { value, u } : null;
}

/** Half-width (k = 2) of the discharge over compression among healthy compressors here, K. */
export function compressorHeatDoubt(content: SnapshotContent, config: EngineConfig): number {
  const values = portsOf(content)?.map((port) => port.value);
  if (values === undefined) return 0;
  const { value, u } = EFFICIENCY;
  const spread =
    overCompression(value + u, config)(values) - overCompression(value - u, config)(values);
  return Number.isFinite(spread) ? Math.abs(spread) / 2 : 0;
}

/** Suction pressure and temperature, high pressure, discharge line; null where one is missing. */
function portsOf(content: SnapshotContent): Uncertain[] | null {
  const ports = [
    freshChannel(content, 'suctionPressure'),
    freshChannel(content, 'suctionLineTemp'),
    freshChannel(content, 'dischargePressure') ?? freshChannel(content, 'liquidPressure'),
    freshChannel(content, 'dischargeLineTemp'),
  ];
  const known = ports.filter((port) => port !== null);
  return known.length < ports.length ? null : known;
}

function overCompression(efficiency: number, config: EngineConfig) {
  const fluid = refrigerant(config.refrigerant);
  return ([pS = NaN, tS = NaN, pD = NaN, tD = NaN]: readonly number[]): number => {
    // Wet suction within the clamp's error is taken as saturated.
    const suctionTemp = Math.max(tS, fluid.curves.tDew(pS));
    const port = { suctionPressure: pS, suctionTemp, dischargePressure: pD };
    return tD - dischargeTemperature(port, efficiency, fluid);
  };
}

/** Superheat so small that the suction may be wet: with an accumulator that is usual in heating. */
function maybeWet(content: SnapshotContent): boolean {
  const superheat = content.figures.superheat;
  return superheat === undefined || superheat.value - superheat.u < 1;
}
