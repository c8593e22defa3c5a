import type { Frame } from '../../../../core/steadiness/types.ts';
import type { Verdict } from '../method.ts';

/** Means and standard deviations over a trailing window. */
export class Trailing {
  readonly #quantities: number;
  readonly #seconds: number;
  #frames: Frame[] = [];

  constructor(quantities: number, seconds: number) {
    this.#quantities = quantities;
    this.#seconds = seconds;
  }

  push(frame: Frame): void {
    this.#frames.push(frame);
    while ((this.#frames[0]?.t ?? Infinity) <= frame.t - this.#seconds) this.#frames.shift();
  }

  clear(): void {
    this.#frames = [];
  }

  /** Whether the window is covered. */
  full(): boolean {
    const first = this.#frames[0];
    const last = this.#frames.at(-1);
    if (first === undefined || last === undefined) return false;
    return last.t - first.t + first.dt >= this.#seconds - 6;
  }

  mean(q: number): number {
    let sum = 0;
    let n = 0;
    for (const { values } of this.#frames) {
      const y = values[q] ?? NaN;
      if (Number.isNaN(y)) continue;
      sum += y;
      n += 1;
    }
    return n > 0 ? sum / n : NaN;
  }

  /** Standard deviation; NaN with under three values. */
  deviation(q: number): number {
    const mean = this.mean(q);
    let sum = 0;
    let n = 0;
    for (const { values } of this.#frames) {
      const y = values[q] ?? NaN;
      if (Number.isNaN(y)) continue;
      sum += (y - mean) ** 2;
      n += 1;
    }
    return n < 3 ? NaN : Math.sqrt(sum / (n - 1));
  }

  verdict(still: boolean): Verdict {
    const declared = still ? Array.from({ length: this.#quantities }, (_, q) => this.mean(q)) : [];
    return {
      still,
      declaredAt: null,
      disturbed: false,
      declared,
      expected: null,
      halfWidths: null,
      timeLeft: null,
    };
  }
}
