import type { Frame } from './types.ts';

/** A quantity this many times slower than the frames has a pace of its own. */
const SLOW = 1.8;
/** Share of a new interval in the usual one, and how many usual ones it counts as at most. */
const GAIN = 0.1;
const LONGEST = 3;

/** How far apart in time the new values of each quantity are. */
export class Pace {
  /** Usual seconds between values; the length of the frames where they keep up with these. */
  readonly seconds: Float64Array;
  readonly #usual: Float64Array;
  readonly #last: Float64Array;

  constructor(quantities: number) {
    this.seconds = new Float64Array(quantities).fill(1);
    this.#usual = new Float64Array(quantities).fill(NaN);
    this.#last = new Float64Array(quantities).fill(NaN);
  }

  /** Takes a frame and its new values, NaN where there is none. */
  push(frame: Frame, news: Float64Array): void {
    for (let q = 0; q < news.length; q += 1) {
      if (!Number.isNaN(news[q] ?? NaN)) {
        const interval = frame.t - (this.#last[q] ?? NaN);
        const usual = this.#usual[q] ?? NaN;
        if (Number.isNaN(usual)) this.#usual[q] = interval;
        else this.#usual[q] = usual + GAIN * (Math.min(interval, LONGEST * usual) - usual);
        this.#last[q] = frame.t;
      }
      const usual = this.#usual[q] ?? NaN;
      this.seconds[q] = usual > SLOW * frame.dt ? usual : frame.dt;
    }
  }
}
