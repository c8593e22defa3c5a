/**
 * What a fit leaves of the newest blocks: how far they scatter beyond what their weights allow, and
 * what that says of the noise.
 */
import type { Basis } from './basis.ts';
import type { Blocks } from './blocks.ts';

/** Age up to which residuals count in the misfit, s. */
const MISFIT_S = 300;
/** Age up to which they speak for the noise, s: not more than the misfit's. */
const NOISE_S = 240;

/**
 * Works out the residuals of the blocks that count.
 * @param seen of the quantity, by block, K
 * @param out by block; those that do not count are left as they are
 */
export function takeResiduals(
  basis: Basis,
  blocks: Blocks,
  seen: Float64Array,
  coefficients: Float64Array,
  out: Float64Array,
): void {
  const { size, terms, columns, reach, now } = basis;
  let first = size;
  while (first > 0 && now - (blocks.to[first - 1] ?? 0) <= MISFIT_S) first -= 1;
  for (let i = first; i < size; i += 1) out[i] = seen[i] ?? 0;
  for (let a = 0; a < terms; a += 1) {
    const column = columns[a] ?? seen;
    const coefficient = coefficients[a] ?? 0;
    const end = reach[a] ?? 0;
    for (let i = first; i < end; i += 1) out[i] = (out[i] ?? 0) - coefficient * (column[i] ?? 0);
  }
}

/** Root of the weighted mean square of the residuals, inflated for runs of one sign. */
export function misfit(
  basis: Basis,
  blocks: Blocks,
  residuals: Float64Array,
  weights: Float64Array,
): number {
  let sum = 0;
  let lagged = 0;
  let n = 0;
  let newer = 0;
  for (let i = basis.size - 1; i >= 0; i -= 1) {
    if (basis.now - (blocks.to[i] ?? 0) > MISFIT_S) break;
    const w = weights[i] ?? 0;
    if (w === 0) continue;
    const r = (residuals[i] ?? 0) * Math.sqrt(w);
    sum += r * r;
    lagged += r * newer;
    newer = r;
    n += 1;
  }
  if (n < 4) return 1;
  const variance = (sum + 3) / (n + 3 - Math.min(3, n - 3)); // shrunk towards 1, few degrees spent
  const correlation = Math.max(0, Math.min(0.9, lagged / (sum + 3)));
  return Math.sqrt((variance * (1 + correlation)) / (1 - correlation));
}

/** Noise density by residuals, K²·s: the larger of what single blocks and neighbouring pairs say. */
export function residualDensity(
  basis: Basis,
  blocks: Blocks,
  q: number,
  residuals: Float64Array,
): number {
  let singles = 0;
  let n = 0;
  let pairs = 0;
  let m = 0;
  let held = NaN;
  for (let i = basis.size - 1; i >= 0; i -= 1) {
    const seconds = blocks.seconds[i * blocks.quantities + q] ?? 0;
    if ((blocks.to[i] ?? 0) < basis.now - NOISE_S) break;
    if (!(seconds > 0)) continue;
    const r = residuals[i] ?? 0;
    singles += r * r * seconds;
    n += 1;
    const whole = r * seconds;
    if (Number.isNaN(held)) held = whole;
    else {
      pairs += (held + whole) ** 2 / (2 * seconds);
      m += 1;
      held = NaN;
    }
  }
  if (n < 8) return NaN;
  return Math.max(singles / (n - 4), pairs / Math.max(1, m - 1));
}
