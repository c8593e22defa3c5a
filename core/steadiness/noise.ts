/**
 * The noise of one quantity, told apart from its motion by second differences: they cancel level
 * and slope (Hadamard variance). Taken at several block lengths, so that noise that is correlated
 * in time is not averaged away faster than it really averages.
 */
import { createDigits, type Digits } from './digits.ts';

/** Block lengths looked at, in base blocks. */
const SCALES = [1, 2, 4, 8] as const;
/** Base blocks remembered: three of the longest scale and one. */
const RING = 3 * 8 + 1;
/** Base blocks over which the noise is remembered, by scale. */
const MEMORY = [36, 36, 48, 72] as const;
/** Median of the square of a standard normal variable. */
const MEDIAN_OF_SQUARE = 0.455;
/** Least relative step of the running median. */
const LEAST_STEP = 0.06;

/** Creates a fresh noise estimate. */
export function createNoise(): Noise {
  return new Noise();
}

/** The running noise estimate of one quantity, fed block by block. */
export class Noise {
  /** What the last digits of the values say of rounding. */
  readonly digits: Digits = createDigits();
  readonly #ring = new Float64Array(RING); // running sums of base block means
  readonly #variance = new Float64Array(SCALES.length); // of a block mean at each scale
  readonly #counts = new Float64Array(SCALES.length);
  #blocks = 0;
  #blockSeconds = 0;

  /** Takes a base block's mean and its seconds with a value. */
  block(mean: number, seconds: number): void {
    if (!(seconds > 0)) return;
    this.#blockSeconds += (seconds - this.#blockSeconds) / Math.min(this.#blocks + 1, 20);
    const before = this.#sum(0);
    this.#blocks += 1;
    this.#ring[this.#blocks % RING] = before + mean;
    for (let s = 0; s < SCALES.length; s += 1) this.#update(s);
  }

  /** Noise density S, K²·s: a mean over T seconds has variance S / T. */
  density(): number {
    let most = 0;
    for (let s = 0; s < SCALES.length; s += 1) {
      if ((this.#counts[s] ?? 0) === 0) continue;
      most = Math.max(most, (this.#variance[s] ?? 0) * (SCALES[s] ?? 1) * this.#blockSeconds);
    }
    return most;
  }

  /** Variance of what averaging cannot remove: the rounding of a quantised value, K². */
  rounding(): number {
    return this.digits.rounding((this.#variance[0] ?? 0) * this.#blockSeconds);
  }

  /** The next second differences span a jump: forget the values, keep what was learnt. */
  cut(): void {
    this.#blocks = 0;
    this.#ring.fill(0);
    this.digits.cut();
  }

  /** Running sum of block means, so many blocks ago. */
  #sum(back: number): number {
    return this.#ring[(this.#blocks - back + 10 * RING) % RING] ?? 0;
  }

  #update(s: number): void {
    const m = SCALES[s] ?? 1;
    if (this.#blocks < 3 * m) return;
    const d = (this.#sum(0) - 3 * this.#sum(m) + 3 * this.#sum(2 * m) - this.#sum(3 * m)) / m;
    const seen = this.#counts[s] ?? 0;
    const old = this.#variance[s] ?? 0;
    const v = (d * d) / 6;
    // A longer scale starts from what the shorter one says of white noise.
    if (seen === 0 && s > 0) {
      this.#variance[s] = (this.#variance[s - 1] ?? 0) / 2;
      this.#counts[s] = 4;
      return;
    }
    const n = Math.min(seen + 1, MEMORY[s] ?? 36);
    this.#counts[s] = n;
    this.#variance[s] =
      seen < 3 ? old + (v - old) / n : towardsMedian(old, v, Math.max(LEAST_STEP, 0.5 / n));
  }
}

/** A running median: what moves for a while is left behind faster than a mean would. */
function towardsMedian(old: number, v: number, step: number): number {
  if (v <= old * MEDIAN_OF_SQUARE) return old * (1 - step);
  return Math.min(old * (1 + step), Math.max(old, v / MEDIAN_OF_SQUARE)) + 1e-9;
}
