/**
 * How far a unit that sways (sun and cloud, gusts, a door that comes and goes) wanders from where it
 * seems to rest. A forecast knows the last quiet minutes; the minutes before them tell that the quiet
 * did not last: each quantity claimed to rest, and over the next five minutes its mean was elsewhere,
 * now above and now below. Only what comes back counts: a start, a drift or an event goes one way.
 */

/** How often a claim is noted, s. */
const EVERY_S = 30;
/** Time in which a claim comes to count for 1/e, s. */
const MEMORY_S = 900;
/** Claims it is believed, before any was checked, to have kept. */
const BELIEF = 3;
/** An event is one of its own where the one before it is further back than this, s. */
const RARE_S = 900;
/** One claim counts for no more than so many tolerances. */
const WORST = 4;
/** So much more than the lesser side of the failed claims tells is to be reckoned with. */
const MARGIN = 4;

/** The failed claims of every quantity to rest where it is. */
export class Sway {
  readonly #tolerances: readonly number[];
  readonly #horizon: number;
  readonly #waiting: number;
  /** By quantity, the integral of all that was seen, K s, and for how long it was seen, s. */
  readonly #sum: Float64Array;
  readonly #seen: Float64Array;
  /** Claims that wait for their time to come: when, and by quantity what was claimed and seen then. */
  readonly #at: Float64Array;
  readonly #claim: Float64Array;
  readonly #sumThen: Float64Array;
  readonly #seenThen: Float64Array;
  #next = 0;
  #last = -Infinity;
  /** By quantity, faded sums of the squares of what came above and below its claim, and of claims. */
  readonly #above: Float64Array;
  readonly #below: Float64Array;
  readonly #claims: Float64Array;
  #checked = NaN;
  #now = -Infinity;
  #overtakenAt = -Infinity;

  /**
   * @param tolerances of the quantities, K
   * @param horizon time over which a claim must hold, s
   */
  constructor(tolerances: readonly number[], horizon: number) {
    const count = tolerances.length;
    this.#tolerances = tolerances;
    this.#horizon = horizon;
    this.#waiting = Math.ceil(horizon / EVERY_S) + 2;
    this.#sum = new Float64Array(count);
    this.#seen = new Float64Array(count);
    this.#at = new Float64Array(this.#waiting).fill(NaN);
    this.#claim = new Float64Array(this.#waiting * count);
    this.#sumThen = new Float64Array(this.#waiting * count);
    this.#seenThen = new Float64Array(this.#waiting * count);
    this.#above = new Float64Array(count);
    this.#below = new Float64Array(count);
    this.#claims = new Float64Array(count);
  }

  /** Takes the mean of a quantity (K; NaN where nothing was seen) over so many seconds. */
  block(q: number, mean: number, seconds: number): void {
    if (Number.isNaN(mean)) return;
    this.#sum[q] = (this.#sum[q] ?? 0) + mean * seconds;
    this.#seen[q] = (this.#seen[q] ?? 0) + seconds;
  }

  /** Notes, no more often than is of use, where each quantity claims to rest; NaN where it does not. */
  note(now: number, claim: (q: number) => number): void {
    if (now - this.#last < EVERY_S - 1e-6) return;
    this.#last = now;
    this.#at[this.#next] = now;
    for (let q = 0; q < this.#tolerances.length; q += 1) {
      const i = this.#next * this.#tolerances.length + q;
      this.#claim[i] = claim(q);
      this.#sumThen[i] = this.#sum[q] ?? 0;
      this.#seenThen[i] = this.#seen[q] ?? 0;
    }
    this.#next = (this.#next + 1) % this.#waiting;
  }

  /** Checks the claims whose time is over. */
  check(now: number): void {
    this.#now = now;
    for (let k = 0; k < this.#waiting; k += 1) {
      const at = this.#at[k] ?? NaN;
      if (!(at + this.#horizon <= now + 1e-6)) continue;
      this.#at[k] = NaN;
      this.#fade(now);
      for (let q = 0; q < this.#tolerances.length; q += 1) this.#hold(k, q);
    }
  }

  /** Variance of the mean over the horizon about where a quantity seems to rest, K². */
  variance(q: number): number {
    const lesser = Math.min(this.#above[q] ?? 0, this.#below[q] ?? 0);
    return (MARGIN * lesser) / (BELIEF + (this.#claims[q] ?? 0));
  }

  /**
   * What is claimed now was overtaken by an event: that it fails tells nothing of swaying. But where one
   * event follows the other, this is how it sways.
   */
  overtake(): void {
    if (this.#now - this.#overtakenAt > RARE_S) this.#at.fill(NaN);
    this.#overtakenAt = this.#now;
  }

  /** Forgets all. */
  clear(): void {
    this.#at.fill(NaN);
    this.#overtakenAt = -Infinity;
    this.#above.fill(0);
    this.#below.fill(0);
    this.#claims.fill(0);
    this.#last = -Infinity;
    this.#checked = NaN;
  }

  #fade(now: number): void {
    const fade = Number.isNaN(this.#checked) ? 0 : Math.exp(-(now - this.#checked) / MEMORY_S);
    this.#checked = now;
    for (const sums of [this.#above, this.#below, this.#claims]) {
      for (let q = 0; q < sums.length; q += 1) sums[q] = (sums[q] ?? 0) * fade;
    }
  }

  /** Holds one claim against what came. */
  #hold(k: number, q: number): void {
    const i = k * this.#tolerances.length + q;
    const seconds = (this.#seen[q] ?? 0) - (this.#seenThen[i] ?? 0);
    const claim = this.#claim[i] ?? NaN;
    if (Number.isNaN(claim) || seconds < this.#horizon / 2) return;
    const error = ((this.#sum[q] ?? 0) - (this.#sumThen[i] ?? 0)) / seconds - claim;
    const square = Math.min(error ** 2, (WORST * (this.#tolerances[q] ?? 1)) ** 2);
    const side = error > 0 ? this.#above : this.#below;
    side[q] = (side[q] ?? 0) + square;
    this.#claims[q] = (this.#claims[q] ?? 0) + 1;
  }
}
