import type { Event } from './machine.ts';
import { StepWatch, type Stretches } from './step.ts';
import type { QuantitySpec } from './types.ts';

/** What is compared, and what of it is called a step. */
export interface StepRule {
  readonly stretches: Stretches;
  /** A quantity that comes more seldom than this, s, cannot tell of such a step. */
  readonly slowest: number;
  /** Times the usual error at which one quantity alone, or all together, speak of a step. */
  readonly alone: number;
  readonly together: number;
  /** No single quantity counts for more than this in the sum of all; so much is beyond doubt. */
  readonly sure: number;
  /** A step smaller than this share of the tolerance is not worth a word; and one beyond doubt. */
  readonly least: number;
  readonly leastSure: number;
}

/** A step within seconds. */
export const SUDDEN: StepRule = {
  stretches: { fresh: 5, guard: 6, base: 40, memory: 150, learnt: 20 },
  slowest: 90,
  alone: 6.5,
  together: 3.7,
  sure: 12,
  least: 1.3,
  leastSure: 0.8,
};

/** A change within a minute: a door, a fan that runs down, refrigerant added. */
export const GRADUAL: StepRule = {
  stretches: { fresh: 15, guard: 30, base: 120, memory: 600, learnt: 60 },
  slowest: 20,
  alone: 4.5,
  together: 3,
  sure: 10,
  least: 1.2,
  leastSure: 1,
};

/** The step watches of all quantities: one alone may call, or several together. */
export interface StepPanel {
  /**
   * Takes a frame; tells of a step when one is seen.
   * @param values of the quantities, NaN where there is nothing new
   * @param pace seconds between the values of each quantity
   */
  push(
    t: number,
    values: ArrayLike<number>,
    pace: ArrayLike<number>,
    flip: (q: number) => number,
  ): Event | null;
  /** Forgets the values, keeps the yardsticks. */
  cut(): void;
  /** Forgets the yardsticks too: what was usual at rest is not so while it runs. */
  forget(): void;
}

/** @param specs the quantities, in the order of the frames' values */
export function createStepPanel(specs: readonly QuantitySpec[], rule: StepRule): StepPanel {
  const watches = specs.map((spec) => new StepWatch(0.06 * spec.tolerance, rule.stretches));
  return {
    push(t, values, pace, flip) {
      let worst = -1;
      let most = 0;
      let square = 0;
      for (let q = 0; q < watches.length; q += 1) {
        const watch = watches[q];
        if (watch === undefined) continue;
        const every = pace[q] ?? 1;
        watch.push(t, every, every <= rule.slowest ? (values[q] ?? NaN) : NaN, flip(q));
        const surprise = Math.min(rule.sure, Math.abs(watch.surprise()));
        square += surprise * surprise;
        const share = surprise >= rule.sure ? rule.leastSure : rule.least;
        const material = Math.abs(watch.size()) > share * (specs[q]?.tolerance ?? 1);
        if (!material || surprise <= most) continue;
        most = surprise;
        worst = q;
      }
      const spec = specs[worst];
      const watch = watches[worst];
      if (spec === undefined || watch === undefined) return null;
      const together = Math.sqrt(square / watches.length);
      if (most < rule.alone && Math.min(together, most) < rule.together) return null;
      return { quantity: spec.key, size: watch.size(), at: t, within: watch.within() };
    },
    cut() {
      for (const watch of watches) watch.cut();
    },
    forget() {
      for (const watch of watches) watch.forget();
    },
  };
}
