/**
 * The normal equations of a fit: sums over the blocks of the products of two terms, and of a term and
 * what was seen. They are most of what a fit costs, so a term is multiplied with several others in one
 * pass along the blocks, and no further than it reaches.
 */
import { BLOCK_CAPACITY } from './blocks.ts';

const weighted = new Float64Array(BLOCK_CAPACITY);
const none = new Float64Array(BLOCK_CAPACITY);

/**
 * @param columns the terms by block, and behind them what was seen
 * @param reach of the terms, in blocks, never falling
 * @param weights of the blocks; 0 where nothing was seen
 * @param matrix row-major, a column for each term: gets its lower triangle, and below it one row of the
 * products with what was seen
 */
export function layNormalEquations(
  columns: readonly Float64Array[],
  terms: number,
  reach: Int32Array,
  weights: Float64Array,
  matrix: Float64Array,
): void {
  for (let a = 0; a < terms; a += 1) {
    const n = reach[a] ?? 0;
    const own = columns[a] ?? none;
    for (let i = 0; i < n; i += 1) weighted[i] = (weights[i] ?? 0) * (own[i] ?? 0);
    let b = a;
    for (; b + 2 <= terms; b += 3) {
      const [first, second, third] = [columns[b], columns[b + 1], columns[b + 2]];
      multiply(first ?? none, second ?? none, third ?? none, n, matrix, b * terms + a, terms);
    }
    for (; b <= terms; b += 1) {
      const other = columns[b] ?? none;
      let sum = 0;
      for (let i = 0; i < n; i += 1) sum += (weighted[i] ?? 0) * (other[i] ?? 0);
      matrix[b * terms + a] = sum;
    }
  }
}

/** Multiplies three columns by the weighted one; the sums go below each other. */
function multiply(
  first: Float64Array,
  second: Float64Array,
  third: Float64Array,
  n: number,
  matrix: Float64Array,
  at: number,
  stride: number,
): void {
  let sum1 = 0;
  let sum2 = 0;
  let sum3 = 0;
  for (let i = 0; i < n; i += 1) {
    const own = weighted[i] ?? 0;
    sum1 += own * (first[i] ?? 0);
    sum2 += own * (second[i] ?? 0);
    sum3 += own * (third[i] ?? 0);
  }
  matrix[at] = sum1;
  matrix[at + stride] = sum2;
  matrix[at + 2 * stride] = sum3;
}
