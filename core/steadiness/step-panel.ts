import type { Event } from './machine.ts';
import { createStepWatch } from './step.ts';
import type { QuantitySpec } from './types.ts';

/** Times the usual error at which one quantity alone, or all together, speak of a step. */
const ALONE = 8;
const TOGETHER = 5;
/** No single quantity counts for more than this in the sum of all. */
const MOST = 12;
/** A step smaller than this share of the tolerance is not worth a word. */
const LEAST_SHARE = 0.9;

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
}

/** @param specs the quantities, in the order of the frames' values */
export function createStepPanel(specs: readonly QuantitySpec[]): StepPanel {
  const watches = specs.map((spec) => createStepWatch(0.06 * spec.tolerance));
  return {
    push(t, values, pace, flip) {
      let worst = -1;
      let most = 0;
      let square = 0;
      watches.forEach((watch, q) => {
        watch.push(t, pace[q] ?? 1, values[q] ?? NaN, flip(q));
        const surprise = Math.min(MOST, Math.abs(watch.surprise()));
        square += surprise * surprise;
        const material = Math.abs(watch.size()) > LEAST_SHARE * (specs[q]?.tolerance ?? 1);
        if (!material || surprise <= most) return;
        most = surprise;
        worst = q;
      });
      const spec = specs[worst];
      const watch = watches[worst];
      if (spec === undefined || watch === undefined) return null;
      const together = Math.sqrt(square / watches.length);
      if (most < ALONE && Math.min(together, most) < TOGETHER) return null;
      return { quantity: spec.key, size: watch.size(), at: t, within: watch.within() };
    },
    cut() {
      for (const watch of watches) watch.cut();
    },
  };
}
