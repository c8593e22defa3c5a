import { channelIndex } from '../stream/channel-index.ts';
import type { ChannelKey } from '../stream/channels.ts';
import type { QuantityKey } from '../steadiness/types.ts';
import { figureRow } from './figures.ts';

/** A channel this many times slower than the frames is slow: its value is held between. */
const SLOW = 1.8;

/** What one frame brought. */
export interface Arrivals {
  /** Length of the frame, s. */
  readonly dt: number;
  /** By channel index: values, NaN where absent, and whether the channel spoke in this frame. */
  readonly channels: Float64Array;
  readonly spoke: Uint8Array;
  /** Usual seconds between values of a channel; null while unknown. */
  readonly period: (channel: ChannelKey) => number | null;
}

/**
 * Tells which quantities a frame says something new of. Where a slow channel (an air sensor once a
 * minute beside pressures once a second) is held, the quantity made of it is not evidence: repeated
 * values look still and then jump. It is new once each of its slow channels has spoken since it was
 * new before.
 *
 * @returns for each quantity whether it is new; the array is reused
 */
export function createFreshness(
  quantities: readonly QuantityKey[],
): (arrivals: Arrivals) => readonly boolean[] {
  const inputs = quantities.map((key) =>
    figureRow(key).inputs.map((input): readonly ChannelKey[] =>
      typeof input === 'string' ? [input] : input,
    ),
  );
  const fresh = quantities.map(() => true);
  /** Frames since a quantity was new, and since a channel spoke. */
  const age = new Float64Array(quantities.length);
  const silent: number[] = [];

  const isNew = (options: readonly ChannelKey[], q: number, { dt, channels, period }: Arrivals) => {
    const used = options.find((key) => !Number.isNaN(channels[channelIndex(key)] ?? NaN));
    if (used === undefined) return true; // absent, not held
    const quiet = silent[channelIndex(used)] ?? 0;
    return quiet === 0 || quiet < (age[q] ?? 0) || (period(used) ?? 0) <= SLOW * dt;
  };

  return (arrivals) => {
    let held = false;
    for (let c = 0; c < arrivals.spoke.length; c += 1) {
      const spoke = arrivals.spoke[c] === 1;
      silent[c] = spoke ? 0 : (silent[c] ?? 0) + 1;
      held ||= !spoke && !Number.isNaN(arrivals.channels[c] ?? NaN);
    }
    if (!held) {
      age.fill(0);
      return fresh.fill(true);
    }
    inputs.forEach((needed, q) => {
      age[q] = (age[q] ?? 0) + 1;
      const now = needed.every((options) => isNew(options, q, arrivals));
      fresh[q] = now;
      if (now) age[q] = 0;
    });
    return fresh;
  };
}
