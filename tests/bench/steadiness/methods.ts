/** The methods compared, and the grids their thresholds are tuned over. */
import { specsFor } from '../../../core/circuit/judged.ts';
import { analyticConfig } from './analytic.ts';
import type { QuantitySpec } from '../../../core/steadiness/types.ts';
import type { Method } from './method.ts';
import { ours } from './ours.ts';
import { fixedTime } from './published/fixed-time.ts';
import { movingWindow } from './published/moving-window.ts';
import { rStatistic } from './published/r-statistic.ts';
import { weightedVariance } from './published/weighted-variance.ts';
import { QUANTITIES } from './session.ts';

/** One setting of one method. */
export interface Setting {
  readonly label: string;
  /** @param specs what the engine judges in the session; the published methods judge everything */
  readonly make: (minimumRun: number, specs: readonly QuantitySpec[]) => Method;
}

/** A method with the settings to choose from; one setting means nothing is tuned here. */
export interface Contender {
  readonly name: string;
  readonly settings: readonly Setting[];
}

const TOLERANCES = specsFor(analyticConfig(0)).map((spec) => spec.tolerance);
const scaled = (factor: number): number[] => TOLERANCES.map((tolerance) => factor * tolerance);

function grid<A, B>(first: readonly A[], second: readonly B[]): [A, B][] {
  return first.flatMap((a) => second.map((b): [A, B] => [a, b]));
}

/** Stillpoint's own; its constants were tuned on the tuning half by hand. */
export const OURS: Contender = {
  name: 'Stillpoint',
  settings: [{ label: 'as shipped', make: (minimumRun, specs) => ours(specs, minimumRun) }],
};

/** The published methods. */
export const PUBLISHED: readonly Contender[] = [
  {
    name: 'moving window (NIST SP 1087)',
    settings: grid([60, 120, 240, 400], [0.15, 0.22, 0.33, 0.5, 0.75, 1.1]).map(
      ([window, factor]) => ({
        label: `${window} s, sd < ${factor} tolerances`,
        make: (minimumRun) => movingWindow(scaled(factor), window, minimumRun),
      }),
    ),
  },
  {
    name: 'weighted variance (Purdue)',
    settings: grid([5, 15, 30, 60], [0.08, 0.12, 0.2, 0.3, 0.45, 0.7]).map(([step, factor]) => ({
      label: `every ${step} s, root v < ${factor} tolerances`,
      make: (minimumRun) => weightedVariance(scaled(factor), step, minimumRun),
    })),
  },
  {
    name: 'R-statistic (Cao & Rhinehart)',
    settings: grid([5, 15, 30], [0.9, 1, 1.2, 1.437, 1.728]).flatMap(([step, accept]) =>
      [1, 5].map((times) => ({
        label: `every ${step} s, R < ${accept}, ${times} times`,
        make: (minimumRun: number) =>
          rStatistic(QUANTITIES.length, accept, times, step, minimumRun),
      })),
    ),
  },
  {
    name: 'fixed 15 minutes',
    settings: [{ label: '900 s', make: () => fixedTime(QUANTITIES.length, 900) }],
  },
];
