import { describe, expect, it } from 'vitest';
import { createBasis, layBasis } from '../../../../core/steadiness/basis.ts';
import { appendBlock, createBlocks } from '../../../../core/steadiness/blocks.ts';
import { layNormalEquations } from '../../../../core/steadiness/normal-equations.ts';
import { createParts, StrengthFits } from '../../../../core/steadiness/strengths.ts';
import { noise } from './driver.ts';

const EXCURSION = { seen: 3, least: 1 };

/** A fit of ten minutes of noise about a decay, in blocks of 5 s. */
function fitOf(period: number) {
  const blocks = createBlocks(1);
  const five = new Float64Array([5]);
  for (let t = 0; t < 600; t += 5) appendBlock(blocks, t, t + 5, five, five);
  const basis = createBasis();
  layBasis(basis, blocks, { horizon: 300, period, pace: 1 });
  const random = noise(5);
  const seen = basis.columns[basis.terms] ?? new Float64Array();
  const weights = new Float64Array(basis.size);
  for (let i = 0; i < basis.size; i += 1) {
    seen[i] = 2 * Math.exp(-(blocks.to[i] ?? 0) / 200) + 0.1 * random();
    weights[i] = 100 + i;
  }
  const fits = new StrengthFits();
  const { columns, terms, reach } = basis;
  layNormalEquations(columns, terms, reach, weights, fits.matrix);
  return { basis, seen, weights, fits };
}

/** Solves a full symmetric system by elimination with pivots. */
function solved(matrix: readonly number[][], right: readonly number[]): number[] {
  const rows = matrix.map((row, i) => [...row, right[i] ?? 0]);
  const n = rows.length;
  const at = (i: number, j: number): number => rows[i]?.[j] ?? NaN;
  for (let j = 0; j < n; j += 1) {
    let best = j;
    for (let i = j; i < n; i += 1) if (Math.abs(at(i, j)) > Math.abs(at(best, j))) best = i;
    [rows[j], rows[best]] = [rows[best] ?? [], rows[j] ?? []];
    for (let i = j + 1; i < n; i += 1) {
      const times = at(i, j) / at(j, j);
      rows[i] = (rows[i] ?? []).map((x, k) => x - times * at(j, k));
    }
  }
  const x = new Array<number>(n).fill(0);
  for (let i = n - 1; i >= 0; i -= 1) {
    let sum = at(i, n);
    for (let k = i + 1; k < n; k += 1) sum -= at(i, k) * (x[k] ?? 0);
    x[i] = sum / at(i, i);
  }
  return x;
}

describe.each([
  ['without a swing', 0],
  ['beside a swing', 90],
])('the normal equations %s', (_, period) => {
  it('hold the products of all terms with each other and with what was seen', () => {
    const { basis, seen, weights, fits } = fitOf(period);
    const { terms, columns } = basis;
    const product = (a: ArrayLike<number>, b: ArrayLike<number>): number =>
      weights.reduce((sum, w, i) => sum + w * (a[i] ?? 0) * (b[i] ?? 0), 0);
    for (let a = 0; a < terms; a += 1) {
      for (let b = 0; b <= a; b += 1) {
        const expected = product(columns[a] ?? [], columns[b] ?? []);
        expect(fits.matrix[a * terms + b]).toBeCloseTo(expected, 6);
      }
      expect(fits.matrix[terms * terms + a]).toBeCloseTo(product(columns[a] ?? [], seen), 6);
    }
  });
});

describe.each([
  ['without a swing', 0],
  ['beside a swing', 90],
])('StrengthFits %s', (_, period) => {
  it('solves the equations with their priors at full strength', () => {
    const { basis, fits } = fitOf(period);
    const { terms } = basis;
    const given = fits.matrix.slice();
    fits.solve(basis, EXCURSION);
    const coefficients = new Float64Array(basis.future.length);
    fits.full(coefficients);
    // Priors: 20 s to 40 min relative to the excursion, capped by the least; constant and swing free.
    const swing = period > 0 ? [9, 9, 9, 9] : [];
    const spreads = [3, 3, 300, ...swing, 2.1, 1.5, 1.2, 1.5, 3];
    const matrix = spreads.map((spread, a) =>
      spreads.map((__, b) => {
        const [row, column] = a > b ? [a, b] : [b, a];
        return (given[row * terms + column] ?? NaN) + (a === b ? 1 / spread ** 2 : 0);
      }),
    );
    const right = spreads.map((__, a) => given[terms * terms + a] ?? NaN);
    const expected = solved(matrix, right);
    expected.forEach((c, a) => expect(coefficients[a]).toBeCloseTo(c, 6));
    // Of the full strength alone: its mean by the coefficients, its variance by the inverse.
    const parts = createParts();
    const out = { mean: 0, variance: 0 };
    fits.weigh(1, -Infinity);
    fits.future(5, 2, parts, out);
    const row = [...basis.future].slice(0, terms);
    const mean = 5 + row.reduce((sum, x, a) => sum + x * (expected[a] ?? 0), 0);
    const variance = solved(matrix, row).reduce((sum, x, a) => sum + x * (row[a] ?? 0), 0);
    expect(parts[0]?.weight).toBe(1);
    expect(out.mean).toBeCloseTo(mean, 6);
    expect(out.variance).toBeCloseTo(2 * variance, 6);
  });
});
