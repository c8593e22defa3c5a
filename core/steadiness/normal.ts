/**
 * Probability that a standard normal variable is below x, by the rational approximation of the
 * error function in Abramowitz & Stegun 1964, 7.1.26 (absolute error below 1.5e-7).
 */
export function normalBelow(x: number): number {
  const z = Math.abs(x) / Math.SQRT2;
  const t = 1 / (1 + 0.3275911 * z);
  const poly =
    t *
    (0.254829592 + t * (-0.284496736 + t * (1.421413741 + t * (-1.453152027 + t * 1.061405429))));
  const tail = 0.5 * poly * Math.exp(-z * z);
  return x >= 0 ? 1 - tail : tail;
}

/** Probability that a normal variable (mean, sd) lies within ±limit. A sd of 0 is a certainty. */
export function normalWithin(mean: number, sd: number, limit: number): number {
  if (!(sd > 0)) return Math.abs(mean) <= limit ? 1 : 0;
  return Math.max(0, normalBelow((limit - mean) / sd) - normalBelow((-limit - mean) / sd));
}
