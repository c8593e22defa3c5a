import type { GapReason } from './sample.ts';

/** A channel is stale after this many of its own periods without a value. */
export const STALE_PERIODS = 3;
/** Never stale sooner than this: a hiccup of a fast sensor is not an absence. */
export const STALE_FLOOR_S = 5;

/** Gaps that end a channel's value at once; the others leave it until it is stale by time. */
const ENDS_AT_ONCE: ReadonlySet<GapReason> = new Set(['lost', 'silent', 'restarted', 'paused']);

/** What is known of when a channel speaks: its last value, its period, its gap. */
export interface ChannelClock {
  /** Notes a value at time t; one older than the last is not noted. */
  value(t: number, value: number): void;
  /** Notes an absence at time t; one older than the last value says nothing of what came since. */
  gap(t: number, why: GapReason): void;
  /** Whether the value is older than the stale limit at time t, or was ended by a gap. */
  stale(t: number): boolean;
  /** Seconds after the last value at which it becomes stale. */
  limit(): number;
  readonly last: () => ClockReading;
  /** Whether the last word was just this value at this time. */
  repeats(t: number, value: number): boolean;
  /** Whether it is known when to expect a value: by its period, or because none came. */
  awaited(): boolean;
}

/** The last thing heard from a channel. */
export interface ClockReading {
  readonly value: number | null;
  /** Time of the last value; null before the first. */
  readonly valueT: number | null;
  /** Time of the last word, a gap or a value. */
  readonly t: number;
  readonly why: GapReason | null;
  readonly period: number | null;
}

/**
 * @param nominalPeriod seconds between samples before any period was observed
 */
export function createChannelClock(nominalPeriod: number): ChannelClock {
  let lastT = -Infinity;
  let lastValue: number | null = null;
  let heardAt = -Infinity;
  let why: GapReason | null = null;
  let ended = false;
  /** Typed by hand: when the next entry comes says nothing of a pace. */
  let typed = false;
  let period: number | null = null;

  const limit = (): number => Math.max(STALE_FLOOR_S, STALE_PERIODS * (period ?? nominalPeriod));

  return {
    value(t, value) {
      const dt = t - lastT;
      if (dt < 0) return;
      if (lastValue !== null && dt > 0 && !ended && !typed) {
        // A single pause must not stretch the period, so a long interval counts as at most five.
        period = period === null ? dt : period + 0.2 * (Math.min(dt, 5 * period) - period);
      }
      lastT = t;
      heardAt = Math.max(heardAt, t);
      lastValue = value;
      why = null;
      ended = false;
      typed = false;
    },
    gap(t, reason) {
      if (t < lastT) return;
      heardAt = Math.max(heardAt, t);
      why = reason;
      if (ENDS_AT_ONCE.has(reason)) ended = true;
      if (reason === 'untyped') typed = true;
    },
    stale: (t) => lastValue === null || ended || t - lastT > limit(),
    limit,
    last: () => ({
      value: lastValue,
      valueT: lastValue === null ? null : lastT,
      t: heardAt,
      why,
      period,
    }),
    repeats: (t, value) => why === null && lastValue === value && lastT === t,
    awaited: () => period !== null || why !== null,
  };
}
