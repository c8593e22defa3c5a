import { describe, expect, it } from 'vitest';

import {
  clenshaw,
  derivativeOf,
  edgeOf,
  evaluateGrid,
  evaluateLine,
  gridSeries,
  lineSeries,
} from '../../../../core/refrigerant/series.ts';

// T_n(cos a) = cos(n a): the definition of the polynomials is the outside truth of these tests.
const polynomial = (n: number, u: number): number => Math.cos(n * Math.acos(u));
const points = [-1, -0.93, -0.4, 0, 0.17, 0.71, 1];

describe('Chebyshev series', () => {
  it('sums its polynomials', () => {
    const c = [0.3, -1.2, 0.7, 0.05, -0.4];
    for (const u of points) {
      const expected = c.reduce((sum, a, n) => sum + a * polynomial(n, u), 0);
      expect(clenshaw(Float64Array.from(c), u)).toBeCloseTo(expected, 12);
    }
  });

  it('maps its interval to [-1, 1]', () => {
    const line = lineSeries(10, 30, [2, 5]);
    expect(evaluateLine(line, 10)).toBeCloseTo(-3, 12);
    expect(evaluateLine(line, 20)).toBeCloseTo(2, 12);
    expect(evaluateLine(line, 30)).toBeCloseTo(7, 12);
  });

  it('differentiates: T_3 = 4u^3 - 3u over an interval of length 4', () => {
    const slope = derivativeOf(lineSeries(0, 4, [1, 0, 0, 1]));
    for (const x of [0, 1, 2.5, 4]) {
      const u = x / 2 - 1;
      expect(evaluateLine(slope, x)).toBeCloseTo((12 * u * u - 3) / 2, 12);
    }
  });

  it('differentiates a constant to zero', () => {
    expect(evaluateLine(derivativeOf(lineSeries(0, 1, [4])), 0.3)).toBe(0);
  });

  it('sums products of polynomials of two variables, rows of unequal length included', () => {
    const rows = [
      [0.5, 1, -0.25],
      [2, 0, 0],
      [-1, 0.125, 0.75],
      [0, 0, 0],
    ];
    const grid = gridSeries(rows);
    expect(grid.map((row) => row.length)).toEqual([3, 1, 3]);
    for (const u of points) {
      for (const w of points) {
        const expected = rows
          .flatMap((row, i) => row.map((a, j) => a * polynomial(i, u) * polynomial(j, w)))
          .reduce((a, b) => a + b, 0);
        expect(evaluateGrid(grid, u, w)).toBeCloseTo(expected, 12);
      }
      expect(clenshaw(edgeOf(grid), u)).toBeCloseTo(evaluateGrid(grid, u, -1), 12);
    }
  });
});
