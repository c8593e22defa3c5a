import { RunClock, type Method } from '../method.ts';
import { Trailing } from './trailing.ts';

/**
 * The moving window of Kim, Yoon, Domanski & Payne 2008 (NIST SP 1087; Int. J. Refrigeration 31(5)
 * 790-799): steady when the standard deviation of every feature inside the window is below its own
 * threshold, which is a multiple (three there) of that feature's deviation in long steady runs.
 * (Decision rule and the factor from memory; window length and thresholds of the source were not
 * at hand, so the window and one common factor are tuned here.)
 *
 * @param window s
 * @param thresholds by quantity, K
 */
export function movingWindow(
  thresholds: readonly number[],
  window: number,
  minimumRun: number,
): Method {
  const clock = new RunClock();
  const trailing = new Trailing(thresholds.length, window);
  return {
    push(frame) {
      const { run, fresh } = clock.push(frame);
      if (fresh) trailing.clear();
      trailing.push(frame);
      const still =
        run >= minimumRun &&
        trailing.full() &&
        thresholds.every((limit, q) => {
          const sd = trailing.deviation(q);
          return Number.isNaN(sd) || sd < limit;
        });
      return trailing.verdict(still);
    },
  };
}
