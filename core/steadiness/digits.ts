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
  let last = NaN;
  let repeats = 0;
  let jump = 0; // mean size of a change
  let jumps = 0;
  let flip = 0;
  const quantised = (): boolean => repeats > REPEAT_SHARE && jumps > 0;
  return {
    push(value) {
      if (Number.isNaN(value)) return;
      if (!Number.isNaN(last)) {
        const d = Math.abs(value - last);
        const same = d < 1e-9;
        repeats += ((same ? 1 : 0) - repeats) / MEMORY;
        if (!same) {
          jumps = Math.min(jumps + 1, 20);
          jump += (d - jump) / jumps;
          flip = flip === 0 ? d : Math.max(1e-6, flip * (1 + (d > flip ? UP : -DOWN)));
        }
      }
      last = value;
    },
    flip: () => (quantised() ? flip : 0),
    rounding(noise) {
      if (!quantised()) return 0;
      const step = jump * jump;
      // Noise wider than the step dithers the rounding away (first harmonic of its error).
      const spread = Math.max(0, noise - step / 12);
      return (step / 12) * Math.exp((-4 * Math.PI * Math.PI * spread) / step);
    },
    cut() {
      last = NaN;
    },
  };
}
