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
  last(): ClockReading;
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
  return new Clock(nominalPeriod);
}

class Clock implements ChannelClock {
  readonly #nominalPeriod: number;
  #lastT = -Infinity;
  #lastValue = NaN;
  #heardAt = -Infinity;
  #why: GapReason | null = null;
  #ended = false;
  /** Typed by hand: when the next entry comes says nothing of a pace. */
  #typed = false;
  #period = NaN;

  constructor(nominalPeriod: number) {
    this.#nominalPeriod = nominalPeriod;
  }

  value(t: number, value: number): void {
    const dt = t - this.#lastT;
    if (dt < 0) return;
    if (this.#hasSpoken() && dt > 0 && !this.#ended && !this.#typed) {
      // A single pause must not stretch the period, so a long interval counts as at most five.
      const known = this.#period;
      this.#period = Number.isNaN(known) ? dt : known + 0.2 * (Math.min(dt, 5 * known) - known);
    }
    this.#lastT = t;
    this.#heardAt = Math.max(this.#heardAt, t);
    this.#lastValue = value;
    this.#why = null;
    this.#ended = false;
    this.#typed = false;
  }

  gap(t: number, why: GapReason): void {
    if (t < this.#lastT) return;
    this.#heardAt = Math.max(this.#heardAt, t);
    this.#why = why;
    if (ENDS_AT_ONCE.has(why)) this.#ended = true;
    if (why === 'untyped') this.#typed = true;
  }

  stale(t: number): boolean {
    return !this.#hasSpoken() || this.#ended || t - this.#lastT > this.limit();
  }

  limit(): number {
    const period = Number.isNaN(this.#period) ? this.#nominalPeriod : this.#period;
    return Math.max(STALE_FLOOR_S, STALE_PERIODS * period);
  }

  last(): ClockReading {
    const spoken = this.#hasSpoken();
    return {
      value: spoken ? this.#lastValue : null,
      valueT: spoken ? this.#lastT : null,
      t: this.#heardAt,
      why: this.#why,
      period: Number.isNaN(this.#period) ? null : this.#period,
    };
  }

  repeats(t: number, value: number): boolean {
    return this.#why === null && this.#lastValue === value && this.#lastT === t;
  }

  awaited(): boolean {
    return !Number.isNaN(this.#period) || this.#why !== null;
  }

  #hasSpoken(): boolean {
    return this.#lastT > -Infinity;
  }
}
