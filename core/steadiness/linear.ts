/**
 * Small dense linear algebra for the fits: symmetric positive definite systems in flat row-major
 * arrays, of which the lower triangle is used. Right sides are rows below the matrix: they are carried
 * along, so that factoring solves L·x = b for each of them in the same pass.
 */

/**
 * Factors the first `columns` columns of an n×n matrix in place as L·Lᵀ, and carries along the rows
 * below it. A pivot lost to rounding is lifted to a tiny positive number instead of failing: with a
 * prior on every coefficient the system is definite, and rounding is the only way to lose that.
 * @param rows of the array: n and those below
 */
export function factor(a: Float64Array, n: number, rows: number, columns: number): void {
  for (let j = 0; j < columns; j += 1) {
    const own = j * n;
    const given = a[own + j] ?? 0;
    let diagonal = given;
    for (let k = 0; k < j; k += 1) diagonal -= (a[own + k] ?? 0) * (a[own + k] ?? 0);
    const pivot = Math.sqrt(Math.max(diagonal, 1e-13 * Math.abs(given) + 1e-300));
    a[own + j] = pivot;
    const scale = 1 / pivot;
    for (let i = j + 1, row = own + n; i < rows; i += 1, row += n) {
      let sum = a[row + j] ?? 0;
      for (let k = 0; k < j; k += 1) sum -= (a[row + k] ?? 0) * (a[own + k] ?? 0);
      a[row + j] = sum * scale;
    }
  }
}

/**
 * Takes the matrix after its first columns were factored, and writes what they leave of the others
 * (the Schur complement, and the right sides with it) into an array of its own.
 */
export function reduce(
  a: Float64Array,
  n: number,
  rows: number,
  columns: number,
  out: Float64Array,
): void {
  const m = n - columns;
  for (let i = columns; i < rows; i += 1) {
    const row = i * n;
    const last = Math.min(i, n - 1);
    for (let j = columns; j <= last; j += 1) {
      let sum = a[row + j] ?? 0;
      for (let k = 0; k < columns; k += 1) sum -= (a[row + k] ?? 0) * (a[j * n + k] ?? 0);
      out[(i - columns) * m + j - columns] = sum;
    }
  }
}

/**
 * Solves Lᵀ·x = b in place for the first so many unknowns; the others, behind them in b, are known.
 * @param l as left by `factor`, n columns
 */
export function backward(l: Float64Array, n: number, b: Float64Array, unknowns: number): void {
  for (let i = unknowns - 1; i >= 0; i -= 1) {
    let sum = b[i] ?? 0;
    for (let k = i + 1; k < n; k += 1) sum -= (l[k * n + i] ?? 0) * (b[k] ?? 0);
    b[i] = sum / (l[i * n + i] ?? 1);
  }
}

/** Σ a·b over n elements, from a place on in each. */
export function dot(
  a: Float64Array,
  fromA: number,
  b: Float64Array,
  fromB: number,
  n: number,
): number {
  let sum = 0;
  for (let i = 0; i < n; i += 1) sum += (a[fromA + i] ?? 0) * (b[fromB + i] ?? 0);
  return sum;
}
