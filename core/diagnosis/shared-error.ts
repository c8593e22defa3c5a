import type { Residual } from './likelihood.ts';

/** Places at which a shared error is tried, standard deviations: so near that none falls between two. */
const STEP = 0.35;
const STEPS = 8;
const PLACES: readonly number[] = Array.from(
  { length: 2 * STEPS + 1 },
  (_, i) => (i - STEPS) * STEP,
);
/** What is left of a residual without the shared error is not taken for surer than this, K. */
const LEAST_SD = 0.1;

/** Residuals as they were with one size of the error they share, and how likely that size is. */
interface AtOnePlace<R> {
  readonly weight: number;
  readonly residuals: readonly R[];
}

/**
 * Residuals at every size of an error that several of them share ({@link Residual.shared}), K; the weights sum
 * to one. The mean of a likelihood over them counts as one fact what is one: a general rule does not know how
 * large a condensing coil is, and where it is small, condensing, the liquid line and the discharge are warm
 * together. What moves apart is no such error. Residuals that share none come back as they are.
 */
export function overSharedError<R extends Residual>(
  residuals: readonly R[],
): readonly AtOnePlace<R>[] {
  if (!residuals.some(({ shared = 0 }) => shared > 0)) return [{ weight: 1, residuals }];
  const density = (place: number): number => Math.exp(-0.5 * place * place);
  const total = PLACES.reduce((sum, place) => sum + density(place), 0);
  return PLACES.map((place) => ({
    weight: density(place) / total,
    residuals: residuals.map((r) => without(r, place)),
  }));
}

/** A residual were the shared error so many standard deviations. */
function without<R extends Residual>(residual: R, place: number): R {
  const { shared = 0, value, sd } = residual;
  if (shared === 0) return residual;
  const rest = Math.sqrt(Math.max(sd ** 2 - shared ** 2, LEAST_SD ** 2));
  return { ...residual, value: value - place * shared, sd: rest };
}
