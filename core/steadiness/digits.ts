/**
 * What the successive values of one quantity say of its last digit: whether it is quantised (or its
 * sensor slow, repeating itself), by which step, and what of the rounding no averaging removes.
 */

/** Share of repeated values from which a quantity counts as quantised. */
const REPEAT_SHARE = 0.25;
/** Frames over which the share of repeats is remembered. */
const MEMORY = 60;
/** Relative steps up and down of the running 90 % quantile of the jumps. */
const UP = 0.27;
const DOWN = 0.03;

export interface Digits {
  /** Takes a frame's value (NaN is skipped). */
  push(value: number): void;
  /** A jump that nine tenths of the changes do not exceed, K; 0 where nothing repeats. */
  flip(): number;
  /**
   * Variance of the rounding that averaging leaves, K².
   * @param noise variance of the noise of a second's value, K²
   */
  rounding(noise: number): number;
  cut(): void;
}

/** A fresh watch on the digits. */
export function createDigits(): Digits {
  return new LastDigits();
}

class LastDigits implements Digits {
  #last = NaN;
  #repeats = 0;
  /** Mean size of a change, of so many. */
  #jump = 0;
  #jumps = 0;
  #flip = 0;

  push(value: number): void {
    if (Number.isNaN(value)) return;
    const d = Math.abs(value - this.#last);
    this.#last = value;
    if (Number.isNaN(d)) return;
    const same = d < 1e-9;
    this.#repeats += ((same ? 1 : 0) - this.#repeats) / MEMORY;
    if (same) return;
    this.#jumps = Math.min(this.#jumps + 1, 20);
    this.#jump += (d - this.#jump) / this.#jumps;
    const step = d > this.#flip ? UP : -DOWN;
    this.#flip = this.#flip === 0 ? d : Math.max(1e-6, this.#flip * (1 + step));
  }

  flip(): number {
    return this.#isQuantised() ? this.#flip : 0;
  }

  rounding(noise: number): number {
    if (!this.#isQuantised()) return 0;
    const step = this.#jump * this.#jump;
    // Noise wider than the step dithers the rounding away (first harmonic of its error).
    const spread = Math.max(0, noise - step / 12);
    return (step / 12) * Math.exp((-4 * Math.PI * Math.PI * spread) / step);
  }

  cut(): void {
    this.#last = NaN;
  }

  #isQuantised(): boolean {
    return this.#repeats > REPEAT_SHARE && this.#jumps > 0;
  }
}
