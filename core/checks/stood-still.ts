import { sensorUncertainty } from '../circuit/readings.ts';
import { atmosphereHalfWidth } from '../circuit/accuracy.ts';
import type { StoodStill, Uncertain } from '../diagnosis/types.ts';
import type { EngineConfig } from '../engine-types.ts';
import { refrigerant } from '../refrigerant/refrigerants.ts';
import { channelIndex } from '../stream/channel-index.ts';
import type { ChannelKey } from '../stream/channels.ts';
import { createStandingWatch } from './standing-watch.ts';
import { standing } from './standing.ts';

/** Finds in a stream what the unit told while it stood still: before its start or between two runs. */
export interface StoodStillFinder {
  /** Takes a frame: its end (s) and its columns, channels first; NaN where absent. */
  observe(t: number, columns: Float64Array): void;
  reset(): void;
  /** What the latest stretch at rest told; null where none did. */
  found(): StoodStill | null;
}

/** Between two looks, s. */
const LOOK_EVERY_S = 30;
/** A hole in the stream parts two stretches; a thermometer this long silent tells nothing, s. */
const TORN_S = 120;
/** Pressures further apart than this share are not worth a look: the unit runs or equalises. */
const APART = 0.1;

/**
 * One finder a unit. Both gauges and both airs are needed: a unit that runs never shows equal
 * pressures at rest, and what stands in the liquid's place is not known from one air alone.
 */
export function createStoodStillFinder(config: EngineConfig): StoodStillFinder {
  const low = createStandingWatch();
  const high = createStandingWatch();
  const airs = new Map<ChannelKey, { readonly t: number; readonly value: number }>();
  let last = NaN;
  let looked = -Infinity;
  let found: StoodStill | null = null;

  const sensed = (channel: ChannelKey, value: number): Uncertain => {
    const gauge = config.gauge.channels.includes(channel);
    const atmosphere = gauge ? atmosphereHalfWidth(config.atmosphere.kind) : 0;
    const { u } = sensorUncertainty({ config, atmosphere: config.atmosphere }, channel, value);
    return { value, u: Math.hypot(2 * u, atmosphere) };
  };
  const reset = (): void => {
    low.reset();
    high.reset();
    airs.clear();
    last = NaN;
    looked = -Infinity;
  };
  const look = (t: number): void => {
    const [a, b] = [low.read(), high.read()];
    if (a === null || b === null || Math.abs(b.mean - a.mean) > APART * b.mean) return;
    const around = [...airs]
      .filter(([, air]) => t - air.t <= TORN_S)
      .map(([channel, { value }]) => sensed(channel, value));
    if (around.length < AIRS.length) return;
    const outcome = standing({
      refrigerant: config.refrigerant,
      running: null,
      low: sensed('suctionPressure', a.mean),
      high: sensed('liquidPressure', b.mean),
      lowRate: a.rate,
      highRate: b.rate,
      surroundings: around,
      offFor: null,
    });
    if (!outcome.ok || outcome.value.probability === null) return;
    const { probability, pressure } = outcome.value;
    const temperatures = around.map(({ value }) => value);
    const { curves } = refrigerant(config.refrigerant);
    found = {
      probability,
      saturated: curves.tBubble(pressure.value),
      coldest: Math.min(...temperatures),
      warmest: Math.max(...temperatures),
    };
  };
  return {
    observe(t, columns) {
      if (t - last > TORN_S || t < last) reset();
      last = t;
      const read = (channel: ChannelKey): number => columns[channelIndex(channel)] ?? NaN;
      const suction = read('suctionPressure');
      const liquid = read('liquidPressure');
      const head = Number.isNaN(liquid) ? read('dischargePressure') : liquid;
      if (!Number.isNaN(suction)) low.push(t, suction);
      if (!Number.isNaN(head)) high.push(t, head);
      for (const channel of AIRS) {
        const value = read(channel);
        if (!Number.isNaN(value)) airs.set(channel, { t, value });
      }
      if (t - looked < LOOK_EVERY_S) return;
      looked = t;
      look(t);
    },
    reset() {
      reset();
      found = null;
    },
    found: () => found,
  };
}

const AIRS = ['outdoorAirTemp', 'returnAirTemp'] as const satisfies ChannelKey[];
