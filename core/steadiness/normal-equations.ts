/**
 * The normal equations of a fit: sums over the blocks of the products of two terms, and of a term and
 * what was seen. They are most of what a fit costs. Terms are therefore taken in threes: of nine products
 * that are summed in one pass along the blocks each number read serves three.
 */
import { BLOCK_CAPACITY } from './blocks.ts';

const weighted = new Float64Array(BLOCK_CAPACITY);
const none = new Float64Array(BLOCK_CAPACITY);

/**
 * @param columns the terms by block, and behind them what was seen
 * @param reach of the terms, in blocks, never falling; beyond it a term is 0
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
  // What does not go into threes are the first ones, which are short.
  const rest = terms % 3;
  for (let a = 0; a < rest; a += 1) {
    const n = reach[a] ?? 0;
    const own = columns[a] ?? none;
    for (let i = 0; i < n; i += 1) weighted[i] = (weights[i] ?? 0) * (own[i] ?? 0);
    for (let b = a; b <= terms; b += 1) {
      const other = columns[b] ?? none;
      let sum = 0;
      for (let i = 0; i < n; i += 1) sum += (weighted[i] ?? 0) * (other[i] ?? 0);
      matrix[b * terms + a] = sum;
    }
  }
  for (let a = rest; a < terms; a += 3) {
    const n = reach[a + 2] ?? 0;
    multiplyWithin(columns, a, terms, weights, n, matrix);
    for (let b = a + 3; b < terms; b += 3) multiplyAcross(columns, a, b, terms, weights, n, matrix);
  }
}

/** Products of three terms with each other and with what was seen. */
function multiplyWithin(
  columns: readonly Float64Array[],
  a: number,
  terms: number,
  weights: Float64Array,
  n: number,
  matrix: Float64Array,
): void {
  const x = columns[a] ?? none;
  const y = columns[a + 1] ?? none;
  const z = columns[a + 2] ?? none;
  const seen = columns[terms] ?? none;
  let xx = 0;
  let xy = 0;
  let xz = 0;
  let yy = 0;
  let yz = 0;
  let zz = 0;
  let xs = 0;
  let ys = 0;
  let zs = 0;
  for (let i = 0; i < n; i += 1) {
    const w = weights[i] ?? 0;
    const xi = x[i] ?? 0;
    const yi = y[i] ?? 0;
    const zi = z[i] ?? 0;
    const si = seen[i] ?? 0;
    const wx = w * xi;
    const wy = w * yi;
    const wz = w * zi;
    xx += wx * xi;
    xy += wx * yi;
    xz += wx * zi;
    yy += wy * yi;
    yz += wy * zi;
    zz += wz * zi;
    xs += wx * si;
    ys += wy * si;
    zs += wz * si;
  }
  let row = a * terms + a;
  matrix[row] = xx;
  row += terms;
  matrix[row] = xy;
  matrix[row + 1] = yy;
  row += terms;
  matrix[row] = xz;
  matrix[row + 1] = yz;
  matrix[row + 2] = zz;
  row = terms * terms + a;
  matrix[row] = xs;
  matrix[row + 1] = ys;
  matrix[row + 2] = zs;
}

/** Products of three terms with three others that stand behind them. */
function multiplyAcross(
  columns: readonly Float64Array[],
  a: number,
  b: number,
  terms: number,
  weights: Float64Array,
  n: number,
  matrix: Float64Array,
): void {
  const x = columns[a] ?? none;
  const y = columns[a + 1] ?? none;
  const z = columns[a + 2] ?? none;
  const p = columns[b] ?? none;
  const q = columns[b + 1] ?? none;
  const r = columns[b + 2] ?? none;
  let px = 0;
  let py = 0;
  let pz = 0;
  let qx = 0;
  let qy = 0;
  let qz = 0;
  let rx = 0;
  let ry = 0;
  let rz = 0;
  for (let i = 0; i < n; i += 1) {
    const w = weights[i] ?? 0;
    const wx = w * (x[i] ?? 0);
    const wy = w * (y[i] ?? 0);
    const wz = w * (z[i] ?? 0);
    const pi = p[i] ?? 0;
    const qi = q[i] ?? 0;
    const ri = r[i] ?? 0;
    px += wx * pi;
    py += wy * pi;
    pz += wz * pi;
    qx += wx * qi;
    qy += wy * qi;
    qz += wz * qi;
    rx += wx * ri;
    ry += wy * ri;
    rz += wz * ri;
  }
  let row = b * terms + a;
  matrix[row] = px;
  matrix[row + 1] = py;
  matrix[row + 2] = pz;
  row += terms;
  matrix[row] = qx;
  matrix[row + 1] = qy;
  matrix[row + 2] = qz;
  row += terms;
  matrix[row] = rx;
  matrix[row + 1] = ry;
  matrix[row + 2] = rz;
}
