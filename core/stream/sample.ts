import type { ChannelKey } from './channels.ts';

/** Why a value is absent. A closed set: text stands in one table of the renderer. */
export const GAP_REASONS = [
  'empty' /* the file has an empty cell */,
  'lost' /* the link to the sensor was lost */,
  'silent' /* nothing arrived for three periods */,
  'implausible' /* outside the channel's range */,
  'notKnown' /* the sensor itself says it does not know */,
  'restarted' /* the recording or the radio process was restarted */,
  'paused' /* the recording was interrupted */,
  'untyped' /* typed by hand: nothing was read since the entry, which stands */,
] as const;
export type GapReason = (typeof GAP_REASONS)[number];

/**
 * One value of one channel, in SI (Pa absolute, K, A, V, kg, humidity 0..1), or a gap.
 * `t` is seconds since the session's origin, by the clock of the host that received it; `seq` and
 * `deviceTime_s` are the sensor's own counter and clock where it has them, kept as they came.
 */
export type Sample = {
  readonly channel: ChannelKey;
  readonly t: number;
  readonly seq?: number;
  readonly deviceTime_s?: number;
} & ({ readonly value: number } | { readonly value: null; readonly why: GapReason });

/** The unit (refrigerant circuit) a sample belongs to, as numbered in the job. */
export type UnitKey = string;

/**
 * What a source hands over at once. `epoch` changes when time jumps (seek, restart): whoever keeps
 * rolling statistics starts anew. Times are non-decreasing within an epoch for each channel unless
 * the sensor itself delivered late.
 */
export interface Batch {
  readonly epoch: number;
  readonly unit: UnitKey;
  readonly samples: readonly Sample[];
}
