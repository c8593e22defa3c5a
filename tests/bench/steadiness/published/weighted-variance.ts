import { RunClock, type Method } from '../method.ts';
import { Decimator } from './decimator.ts';

/** Forgetting factor used on field data (Li & Braun 2003, final report to the CEC). */
const FORGETTING = 0.7;

/**
 * The exponentially weighted variance of Breuker 1997 and Li & Braun 2003 (formula from memory):
 * m = g·m + (1-g)·x, v = g·v + (1-g)·(x - m)², steady when v is below its threshold. The step at
 * which it runs is tuned with the threshold, since the factor forgets per sample.
 *
 * @param deviations root of the threshold by quantity, K
 * @param step seconds between the values it sees
 */
export function weightedVariance(
  deviations: readonly number[],
  step: number,
  minimumRun: number,
): Method {
  const clock = new RunClock();
  const decimator = new Decimator(deviations.length, step);
  const mean = deviations.map(() => NaN);
  const variance = deviations.map(() => NaN);
  let steps = 0;
  return {
    push(frame) {
      const { run, fresh } = clock.push(frame);
      if (fresh) {
        mean.fill(NaN);
        variance.fill(NaN);
        steps = 0;
        decimator.clear();
      }
      const values = decimator.push(frame);
      if (values !== null) {
        steps += 1;
        values.forEach((x, q) => {
          if (Number.isNaN(x)) return;
          const before = mean[q] ?? NaN;
          const m = Number.isNaN(before) ? x : FORGETTING * before + (1 - FORGETTING) * x;
          const v = variance[q] ?? NaN;
          mean[q] = m;
          variance[q] = Number.isNaN(v) ? 1e3 : FORGETTING * v + (1 - FORGETTING) * (x - m) ** 2;
        });
      }
      const still =
        run >= minimumRun &&
        steps > 3 &&
        deviations.every((limit, q) => !((variance[q] ?? NaN) >= limit * limit));
      const declared = [...mean];
      return {
        still,
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
