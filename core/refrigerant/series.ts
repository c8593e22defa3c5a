/**
 * Chebyshev series of one and two variables by Clenshaw's recurrence. The evaluations allocate
 * nothing: they run inside loops over every sample.
 */

/** A series in u in [-1, 1], where u is linear in x on [low, high]. */
export interface LineSeries {
  readonly low: number;
  readonly high: number;
  readonly scale: number;
  readonly shift: number;
  readonly c: Float64Array;
}

/** Rows of a two-dimensional series: row i holds the coefficients of T_i(u) T_j(w). */
export type GridSeries = readonly Float64Array[];

/** Builds a series over [low, high]. */
export function lineSeries(low: number, high: number, c: readonly number[]): LineSeries {
  const scale = 2 / (high - low);
  return { low, high, scale, shift: -1 - low * scale, c: trimmed(c) };
}

/** Builds a two-dimensional series; trailing coefficients that were written as zero cost nothing. */
export function gridSeries(rows: readonly (readonly number[])[]): GridSeries {
  const out = rows.map(trimmed);
  while (out.length > 1 && out.at(-1)?.length === 1 && out.at(-1)?.[0] === 0) out.pop();
  return out;
}

/** The series of u alone that a two-dimensional one becomes at w = -1. */
export function edgeOf(grid: GridSeries): Float64Array {
  return Float64Array.from(grid, (row) => clenshaw(row, -1));
}

/** The series of the derivative by x. */
export function derivativeOf(series: LineSeries): LineSeries {
  const c = series.c;
  const out = new Float64Array(Math.max(1, c.length - 1));
  let next = 0;
  let afterNext = 0;
  for (let k = c.length - 2; k >= 0; k -= 1) {
    const value = afterNext + 2 * (k + 1) * at(c, k + 1);
    afterNext = next;
    next = value;
    out[k] = (k === 0 ? value / 2 : value) * series.scale;
  }
  return { ...series, c: out };
}

/** Value at x; meaningless outside [low, high]. */
export function evaluateLine(series: LineSeries, x: number): number {
  return clenshaw(series.c, x * series.scale + series.shift);
}

/** Value at (u, w), both in [-1, 1]. */
export function evaluateGrid(grid: GridSeries, u: number, w: number): number {
  const twoU = u + u;
  let b1 = 0;
  let b2 = 0;
  for (let i = grid.length - 1; i > 0; i -= 1) {
    const b0 = clenshaw(grid[i] as Float64Array, w) + twoU * b1 - b2;
    b2 = b1;
    b1 = b0;
  }
  return clenshaw(grid[0] as Float64Array, w) + u * b1 - b2;
}

/** Sum of c_k T_k(u). */
export function clenshaw(c: Float64Array, u: number): number {
  const twoU = u + u;
  let b1 = 0;
  let b2 = 0;
  for (let k = c.length - 1; k > 0; k -= 1) {
    const b0 = at(c, k) + twoU * b1 - b2;
    b2 = b1;
    b1 = b0;
  }
  return at(c, 0) + u * b1 - b2;
}

function trimmed(c: readonly number[]): Float64Array {
  let length = c.length;
  while (length > 1 && c[length - 1] === 0) length -= 1;
  return Float64Array.from(c.slice(0, length));
}

/** An element whose index the caller keeps inside the array. */
const at = (c: Float64Array, k: number): number => c[k] as number;
