/** Small dense linear algebra for the fits: symmetric positive definite systems in flat arrays. */

/**
 * Factors a symmetric positive definite n×n matrix (row-major, lower triangle used) in place as
 * L·Lᵀ. A pivot lost to rounding is lifted to a tiny positive number instead of failing: with a
 * prior on every coefficient the system is definite, and rounding is the only way to lose that.
 */
export function factor(a: Float64Array, n: number): void {
  for (let j = 0; j < n; j += 1) {
    let diagonal = a[j * n + j] ?? 0;
    const floor = 1e-13 * Math.abs(diagonal) + 1e-300;
    for (let k = 0; k < j; k += 1) diagonal -= (a[j * n + k] ?? 0) ** 2;
    const pivot = Math.sqrt(Math.max(diagonal, floor));
    a[j * n + j] = pivot;
    for (let i = j + 1; i < n; i += 1) {
      let sum = a[i * n + j] ?? 0;
      for (let k = 0; k < j; k += 1) sum -= (a[i * n + k] ?? 0) * (a[j * n + k] ?? 0);
      a[i * n + j] = sum / pivot;
    }
  }
}

/** Solves L·x = b in place, L as left by `factor`. */
export function forward(l: Float64Array, n: number, b: Float64Array): void {
  for (let i = 0; i < n; i += 1) {
    let sum = b[i] ?? 0;
    for (let k = 0; k < i; k += 1) sum -= (l[i * n + k] ?? 0) * (b[k] ?? 0);
    b[i] = sum / (l[i * n + i] ?? 1);
  }
}

/** Solves Lᵀ·x = b in place, L as left by `factor`. */
export function backward(l: Float64Array, n: number, b: Float64Array): void {
  for (let i = n - 1; i >= 0; i -= 1) {
    let sum = b[i] ?? 0;
    for (let k = i + 1; k < n; k += 1) sum -= (l[k * n + i] ?? 0) * (b[k] ?? 0);
    b[i] = sum / (l[i * n + i] ?? 1);
  }
}

/** Σ a·b over the first n elements. */
export function dot(a: Float64Array, b: Float64Array, n: number): number {
  let sum = 0;
  for (let i = 0; i < n; i += 1) sum += (a[i] ?? 0) * (b[i] ?? 0);
  return sum;
}
