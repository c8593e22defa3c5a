import { RunClock, type Method } from '../method.ts';
import { Decimator } from './decimator.ts';

/** Filter factors that Cao & Rhinehart recommend (from memory). */
const L1 = 0.2;
const L2 = 0.1;
const L3 = 0.1;
/** Variance of rounding to the usual display step of 0.1 °F: keeps the denominator off zero. */
const ROUNDING = (0.1 / 1.8) ** 2 / 12;

/**
 * The R-statistic of Cao & Rhinehart 1995 (J. Process Control 5(6) 363-374; formulas from memory):
 * the ratio of two estimates of the variance, one by distance from the filtered value, one by
 * successive differences. About 1 at rest. Steady when R of every quantity has been below `accept`
 * (median for white noise 1.00, 95 % quantile 1.437, 99 % 1.728, by our own simulation of the
 * formulas) for `times` steps in a row; no longer when any exceeds the 99 % quantile.
 *
 * @param accept R below which a quantity counts as steady
 * @param step seconds between the values it sees
 */
export function rStatistic(
  quantities: number,
  accept: number,
  times: number,
  step: number,
  minimumRun: number,
): Method {
  const clock = new RunClock();
  const decimator = new Decimator(quantities, step);
  const bars = Array.from({ length: quantities }, () => new Bar());
  let streak = 0;
  let still = false;
  return {
    push(frame) {
      const { run, fresh } = clock.push(frame);
      if (fresh) {
        for (const bar of bars) bar.clear();
        decimator.clear();
        streak = 0;
        still = false;
      }
      const values = decimator.push(frame);
      if (values !== null) {
        values.forEach((x, q) => bars[q]?.push(x));
        const ratios = bars.map((bar) => bar.ratio());
        streak = ratios.every((r) => Number.isNaN(r) || r < accept) ? streak + 1 : 0;
        if (streak >= times) still = true;
        else if (ratios.some((r) => r > 1.728)) still = false;
      }
      const declared = bars.map((bar) => bar.filtered);
      return {
        still: still && run >= minimumRun,
        declaredAt: null,
        disturbed: false,
        declared,
        expected: null,
        halfWidths: null,
        timeLeft: null,
      };
    },
  };
}

class Bar {
  filtered = NaN;
  #before = NaN;
  #spread = NaN;
  #jumps = NaN;

  push(x: number): void {
    if (Number.isNaN(x)) return;
    if (Number.isNaN(this.filtered)) {
      this.filtered = x;
      this.#before = x;
      this.#spread = 1;
      this.#jumps = 1e-3;
      return;
    }
    this.#spread = L2 * (x - this.filtered) ** 2 + (1 - L2) * this.#spread;
    this.#jumps = L3 * (x - this.#before) ** 2 + (1 - L3) * this.#jumps;
    this.filtered = L1 * x + (1 - L1) * this.filtered;
    this.#before = x;
  }

  ratio(): number {
    return ((2 - L1) * this.#spread) / Math.max(this.#jumps, ROUNDING);
  }

  clear(): void {
    this.filtered = NaN;
  }
}
