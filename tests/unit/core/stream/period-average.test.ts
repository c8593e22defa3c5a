import { describe, expect, it } from 'vitest';
import { createHistory } from '../../../../core/stream/history.ts';
import { averageOverPeriods } from '../../../../core/stream/period-average.ts';

const PERIOD = 200;

/** A swing of amplitude 3 about 10, once a second, with what is given added by period. */
function swinging(periods: number, wander: (k: number) => number = () => 0) {
  const history = createHistory(1800, 1);
  for (let t = 1; t <= periods * PERIOD; t += 1) {
    const phase = (2 * Math.PI * t) / PERIOD;
    history.push(t, Float64Array.of(10 + 3 * Math.sin(phase) + wander(Math.ceil(t / PERIOD))));
  }
  const to = periods * PERIOD;
  return (from: number) => averageOverPeriods(history, 0, { from, to }, PERIOD);
}

describe('the average over whole periods of a swing', () => {
  it('takes no half of a swing for scatter where the window is one period', () => {
    const average = swinging(5)(4 * PERIOD);
    expect(average?.mean).toBeCloseTo(10, 6);
    expect(average?.uStat).toBeLessThan(1e-6);
    expect(average?.blocks).toBe(4);
  });

  it('reads the mean inside the window, and its scatter from the periods before as well', () => {
    const means = [0.3, -0.3, 0.3, -0.3];
    const average = swinging(4, (k) => means[k - 1] ?? 0)(3 * PERIOD);
    expect(average?.mean).toBeCloseTo(9.7, 6);
    // Standard deviation of the four means; one of them is in the window.
    expect(average?.uStat).toBeCloseTo(Math.sqrt((4 * 0.3 ** 2) / 3), 6);
  });

  it('tells no scatter of a single period', () => {
    expect(swinging(1)(0)?.uStat).toBeNaN();
  });

  it('is null without a value', () => {
    const history = createHistory(10, 1);
    history.push(1, Float64Array.of(NaN));
    expect(averageOverPeriods(history, 0, { from: 0, to: 1 }, 1)).toBeNull();
  });
});
