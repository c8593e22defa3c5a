import { describe, expect, it } from 'vitest';
import fc from 'fast-check';
import { alignLines, lonely } from '../../../renderer/charts/align.ts';

type Point = readonly [number, number | null];
const column = (points: readonly Point[], from: number, to: number, rows: number) =>
  alignLines([points], from, to, rows).map((row) => row.values[0]);

describe('lines on a common row of times', () => {
  it('draws a straight line through its points', () => {
    expect(
      column(
        [
          [0, 0],
          [10, 10],
        ],
        0,
        10,
        11,
      ),
    ).toEqual([0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10]);
  });

  it('leaves a gap open, and what lies outside the points empty', () => {
    const points: Point[] = [
      [2, 5],
      [4, 5],
      [5, null],
      [7, 6],
      [8, 6],
    ];
    expect(column(points, 0, 10, 11)).toEqual([null, null, 5, 5, 5, null, null, 6, 6, null, null]);
  });

  it('keeps both of two points that fall into one row', () => {
    const values = column(
      [
        [0, 1],
        [4.9, 9],
        [5.1, -9],
        [10, 1],
      ],
      0,
      10,
      11,
    );
    expect(values).toContain(9);
    expect(values).toContain(-9);
  });

  it('keeps the extremes of a line thinned to the budget', () => {
    const values = fc.array(fc.double({ min: -1e3, max: 1e3, noNaN: true }), {
      minLength: 2,
      maxLength: 200,
    });
    fc.assert(
      fc.property(values, (vs) => {
        const points = vs.map((v, i) => [(i * 100) / (vs.length - 1), v] as const);
        const drawn = column(points, 0, 100, 400).filter((v) => v !== null && v !== undefined);
        // === and not toBe: zero of either sign is drawn at the same place.
        expect(Math.max(...drawn) === Math.max(...vs)).toBe(true);
        expect(Math.min(...drawn) === Math.min(...vs)).toBe(true);
      }),
    );
  });
});

describe('values that no line reaches', () => {
  it('are those with nothing on either side', () => {
    expect(lonely([1, null, 2, 3, null, 4])).toEqual(new Set([0, 5]));
    expect(lonely([null, 1, 2, null])).toBeUndefined();
  });
});
