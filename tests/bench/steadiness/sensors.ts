/** Sensors for the analytic set: true quantities to channel samples of a given quality. */
import { refrigerant } from '../../../core/refrigerant/refrigerants.ts';
import { CHANNEL_KEYS, type ChannelKey } from '../../../core/stream/channels.ts';
import type { Sample } from '../../../core/stream/sample.ts';
import type { Dice } from './dice.ts';

/** How well a channel is measured. Temperatures in K, pressures in Pa. */
interface Quality {
  readonly noise: number;
  readonly quantum: number;
  /** Correlation time of the noise, s; 0 for white. */
  readonly memory: number;
  /** Chance that the last value is sent again instead of a new one. */
  readonly stuck: number;
}

const DEGF = 5 / 9;
const PSI = 6894.757;

/** Classes of sensors, from good probes to a display read by eye. */
export const SENSOR_CLASSES = ['fine', 'usual', 'coarse', 'noisy', 'slow'] as const;
export type SensorClass = (typeof SENSOR_CLASSES)[number];

/** Draws the quality of one channel of a class, for a sensor read at a rate (Hz). */
export function qualityOf(dice: Dice, kind: SensorClass, pressure: boolean, rate: number): Quality {
  const unit = pressure ? PSI : DEGF;
  switch (kind) {
    case 'fine':
      return { noise: dice.log(0.02, 0.08) * unit, quantum: 0.1 * unit, memory: 0, stuck: 0 };
    case 'usual':
      return {
        noise: dice.log(0.08, 0.3) * unit,
        quantum: 0.1 * unit,
        memory: dice.pick([0, 5]),
        stuck: dice.pick([0, 0.3]),
      };
    case 'coarse':
      return { noise: dice.log(0.1, 0.4) * unit, quantum: unit, memory: 0, stuck: 0 };
    case 'noisy':
      return {
        noise: dice.log(0.3, 0.9) * unit * (pressure ? 2 : 1),
        quantum: 0.1 * unit,
        memory: dice.pick([0, 5, 15]),
        stuck: 0,
      };
    case 'slow': {
      // It renews its value every four seconds or so, however often it is asked.
      const stuck = 0.75 * Math.min(1, rate);
      return { noise: dice.log(0.05, 0.2) * unit, quantum: 0.1 * unit, memory: 3, stuck };
    }
  }
}

/** The channels the quantities become, and their true values at a second. */
export type ChannelTruth = Partial<Record<ChannelKey, Float64Array>>;

/** Seconds between single wild values of a channel, on average. */
const WILD_EVERY_S = 4000;
const AT_REST_K = 297;
const FLUID = refrigerant('R-410A');

/** Channels that would show these quantities on a unit that runs in [start, stop). */
export function channelsOf(
  series: readonly Float64Array[],
  start: number,
  stop: number,
  withCurrent: boolean,
): ChannelTruth {
  const n = series[0]?.length ?? 0;
  const make = (value: (t: number, q: (i: number) => number, runs: boolean) => number) =>
    Float64Array.from({ length: n }, (_, t) =>
      value(t, (i) => series[i]?.[t] ?? NaN, t >= start && t < stop),
    );
  const rest = FLUID.curves.pDew(AT_REST_K);
  return {
    suctionPressure: make((_, q, runs) => (runs ? FLUID.curves.pDew(q(0)) : rest)),
    liquidPressure: make((_, q, runs) => (runs ? FLUID.curves.pBubble(q(1)) : rest)),
    suctionLineTemp: make((_, q) => q(0) + q(2)),
    liquidLineTemp: make((_, q) => q(1) - q(3)),
    returnAirTemp: make(() => 298),
    supplyAirTemp: make((_, q) => 298 - q(4)),
    ...(withCurrent ? { compressorCurrent: make((_, __, runs) => (runs ? 9 : 0)) } : {}),
  };
}

/** Measures the channels at a rate with sensors of a class. Samples are in order of time. */
export function measure(
  dice: Dice,
  truth: ChannelTruth,
  rate: number,
  kind: SensorClass,
): Sample[] {
  const samples: Sample[] = [];
  for (const channel of CHANNEL_KEYS) {
    const series = truth[channel];
    if (series === undefined) continue;
    const pressure = channel.endsWith('Pressure');
    const quality =
      channel === 'compressorCurrent'
        ? { noise: 0.05, quantum: 0.1, memory: 0, stuck: 0 }
        : qualityOf(dice, kind, pressure, rate);
    const lost = dice.chance(0.15) ? 0.02 : 0;
    measureOne(dice, channel, series, rate, quality, lost, samples);
  }
  return samples.sort((a, b) => a.t - b.t);
}

function measureOne(
  dice: Dice,
  channel: ChannelKey,
  series: Float64Array,
  rate: number,
  quality: Quality,
  lost: number,
  out: Sample[],
): void {
  const step = 1 / rate;
  const keep = quality.memory > 0 ? Math.exp(-step / quality.memory) : 0;
  let wander = dice.normal();
  let last = NaN;
  for (let t = dice.between(0, step); t <= series.length - 1; t += step) {
    wander = keep * wander + Math.sqrt(1 - keep * keep) * dice.normal();
    const wild = dice.chance(step / WILD_EVERY_S) ? 25 : 1;
    const low = Math.floor(t);
    const a = series[low] ?? NaN;
    const true0 = a + (t - low) * ((series[low + 1] ?? a) - a);
    const fresh = true0 + quality.noise * wander * wild;
    const shown =
      quality.quantum > 0 ? Math.round(fresh / quality.quantum) * quality.quantum : fresh;
    const value = !Number.isNaN(last) && dice.chance(quality.stuck) ? last : shown;
    last = value;
    if (dice.chance(lost)) continue;
    out.push({ channel, t: Math.round(t * 1000) / 1000, value });
  }
}
