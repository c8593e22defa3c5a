import type { Frame } from '../../../../core/steadiness/types.ts';

/** Means over steps of equal length, for methods that forget per sample. */
export class Decimator {
  readonly #step: number;
  readonly #sums: number[];
  readonly #counts: number[];
  #seconds = 0;

  constructor(quantities: number, step: number) {
    this.#step = step;
    this.#sums = Array.from({ length: quantities }, () => 0);
    this.#counts = Array.from({ length: quantities }, () => 0);
  }

  clear(): void {
    this.#sums.fill(0);
    this.#counts.fill(0);
    this.#seconds = 0;
  }

  /** The means of the step that this frame ends; null while the step lasts. */
  push(frame: Frame): number[] | null {
    frame.values.forEach((y, q) => {
      if (Number.isNaN(y)) return;
      this.#sums[q] = (this.#sums[q] ?? 0) + y;
      this.#counts[q] = (this.#counts[q] ?? 0) + 1;
    });
    this.#seconds += frame.dt;
    if (this.#seconds < this.#step - 1e-6) return null;
    const means = this.#sums.map((sum, q) => {
      const n = this.#counts[q] ?? 0;
      return n > 0 ? sum / n : NaN;
    });
    this.clear();
    return means;
  }
}
