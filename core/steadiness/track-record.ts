/**
 * Holds the forecasts made a few minutes ago against what came. Where they were further off than
 * they claimed (gusts, a unit that moves unlike any sum of decaying modes), the present ones are
 * taken to be off by as much.
 */

/** How far ahead the forecasts reach that are checked, s, and how often one is noted. */
export const CHECK_S = 150;
const EVERY_S = 30;
/** Forecasts waiting to be checked. */
const WAITING = 8;
/** Checks remembered, and the mean square error (relative to the claim) believed before any. */
const REMEMBERED = 6;
const BELIEVED = 1.3;
const BELIEVED_WEIGHT = 3;
/** One bad forecast counts at most so much. */
const WORST = 16;

/** The record of past forecasts of every quantity, and by how much the present ones must widen. */
export class TrackRecord {
  readonly #quantities: number;
  readonly #at = new Float64Array(WAITING).fill(NaN);
  readonly #means: Float64Array;
  readonly #variances: Float64Array;
  readonly #squares: Float64Array;
  /** Mean square error beyond the claim, K²; infinite before any check. */
  readonly #beyond: Float64Array;
  #next = 0;
  #last = -Infinity;
  #checks = 0;

  constructor(quantities: number) {
    this.#quantities = quantities;
    this.#means = new Float64Array(WAITING * quantities);
    this.#variances = new Float64Array(WAITING * quantities);
    this.#beyond = new Float64Array(quantities).fill(Infinity);
    this.#squares = new Float64Array(quantities).fill(BELIEVED);
  }

  /** Whether it is time to note a forecast. */
  due(now: number): boolean {
    return now - this.#last >= EVERY_S - 1e-6;
  }

  /** Notes a forecast of the means over the next `CHECK_S`; NaN where there is none. */
  note(now: number, forecast: (q: number) => { mean: number; variance: number }): void {
    this.#last = now;
    this.#at[this.#next] = now;
    for (let q = 0; q < this.#quantities; q += 1) {
      const { mean, variance } = forecast(q);
      this.#means[this.#next * this.#quantities + q] = mean;
      this.#variances[this.#next * this.#quantities + q] = variance;
    }
    this.#next = (this.#next + 1) % WAITING;
  }

  /** Checks the forecasts whose time has come against the means that came. */
  check(now: number, actual: (q: number, from: number, to: number) => number | null): void {
    for (let i = 0; i < WAITING; i += 1) {
      const at = this.#at[i] ?? NaN;
      if (!(at + CHECK_S <= now + 1e-6)) continue;
      this.#at[i] = NaN;
      this.#checks = Math.min(this.#checks + 1, REMEMBERED);
      for (let q = 0; q < this.#quantities; q += 1) {
        const mean = actual(q, at, at + CHECK_S);
        const said = this.#means[i * this.#quantities + q] ?? NaN;
        if (mean === null || Number.isNaN(said)) continue;
        const variance = this.#variances[i * this.#quantities + q] ?? 1;
        const square = Math.min(WORST, (mean - said) ** 2 / variance);
        const gain = 1 / (BELIEVED_WEIGHT + this.#checks);
        const old = this.#squares[q] ?? BELIEVED;
        this.#squares[q] = old + gain * (square - old);
        const beyond = (square - 1) * variance;
        const before = this.#beyond[q] ?? Infinity;
        this.#beyond[q] = before === Infinity ? beyond : before + gain * (beyond - before);
      }
    }
  }

  /**
   * The variance to be reckoned with where a forecast of a quantity claims this one, K²: as many times
   * larger as earlier errors were, but by no more than these were beyond their claims. What was wide of
   * a narrow claim need not be wide of a broad one.
   */
  widened(q: number, claimed: number): number {
    const factor = Math.max(1, this.#squares[q] ?? BELIEVED);
    const beyond = Math.max(0, this.#beyond[q] ?? Infinity);
    return claimed + Math.min((factor - 1) * claimed, beyond);
  }

  clear(): void {
    this.#at.fill(NaN);
    this.#squares.fill(BELIEVED);
    this.#beyond.fill(Infinity);
    this.#last = -Infinity;
    this.#checks = 0;
  }
}
