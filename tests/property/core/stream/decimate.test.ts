import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  decimateMinMax,
  MIN_BUDGET,
  seriesOf,
  type Point,
} from '../../../../core/stream/decimate.ts';

/** Lines with uneven steps and breaks. */
const lines = fc
  .array(
    fc.tuple(
      fc.double({ min: 0, max: 30, noNaN: true }),
      fc.option(fc.double({ min: -1e6, max: 1e6, noNaN: true }), { freq: 10 }),
    ),
    { minLength: 0, maxLength: 800 },
  )
  .map((steps) => {
    let t = 0;
    return steps.map(([dt, value]): Point => {
      t += dt;
      return [t, value];
    });
  });
const budgets = fc.integer({ min: MIN_BUDGET, max: 300 });
const thin = (line: readonly Point[], budget: number) => decimateMinMax(seriesOf(line), budget);

describe('decimateMinMax', () => {
  it('keeps to its budget and to points that were there, in order', () => {
    fc.assert(
      fc.property(lines, budgets, (line, budget) => {
        const kept = thin(line, budget);
        expect(kept.length).toBeLessThanOrEqual(budget);
        let at = 0;
        for (const [t, value] of kept) {
          while (at < line.length && !(line[at]![0] === t && Object.is(line[at]![1], value)))
            at += 1;
          expect(at).toBeLessThan(line.length);
          at += 1;
        }
      }),
    );
  });

  it('keeps the first, last, smallest and largest value', () => {
    fc.assert(
      fc.property(lines, budgets, (line, budget) => {
        const values = line.flatMap(([, v]) => (v === null ? [] : [v]));
        const kept = thin(line, budget).flatMap(([, v]) => (v === null ? [] : [v]));
        expect(kept.length === 0).toBe(values.length === 0);
        if (values.length === 0) return;
        expect(kept[0]).toBe(values[0]);
        expect(kept.at(-1)).toBe(values.at(-1));
        expect(Math.min(...kept)).toBe(Math.min(...values));
        expect(Math.max(...kept)).toBe(Math.max(...values));
      }),
    );
  });

  it('lets a peak of one sample survive wherever it stands', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 500, max: 5000 }),
        fc.nat(),
        fc.constantFrom(1, -1),
        fc.integer({ min: 16, max: 400 }),
        (length, where, sign, budget) => {
          const at = where % length;
          const line = Array.from({ length }, (_, i): Point => [
            i / 4,
            i === at ? 1000 * sign : Math.sin(i / 50),
          ]);
          expect(thin(line, budget)).toContainEqual(line[at]);
        },
      ),
    );
  });

  it('keeps every break that has a bucket to itself', () => {
    const line = Array.from({ length: 4000 }, (_, i): Point => [
      i,
      i === 1000 || i === 3000 ? null : 1,
    ]);
    const breaks = thin(line, 100).filter(([, value]) => value === null);
    expect(breaks).toEqual([
      [1000, null],
      [3000, null],
    ]);
  });

  it('gives a short line back whole and refuses a budget without room', () => {
    const line: Point[] = [
      [0, 1],
      [1, null],
      [2, 3],
    ];
    expect(thin(line, 5)).toEqual(line);
    expect(() => thin(line, 4)).toThrow(/budget/);
  });
});
