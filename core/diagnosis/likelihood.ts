import { normalBelow } from '../steadiness/normal.ts';
import type { Sign, SignRow } from './signs.ts';
import type { FeatureKey } from './types.ts';

/**
 * How well a residual fits "below", "unchanged", "above": densities of the measured residual under
 * each, so that an uncertain measurement speaks softly by itself.
 */
export interface ClassFit {
  readonly below: number;
  readonly same: number;
  readonly above: number;
}

/** A measured residual: measured minus expected, standard uncertainty of both together. */
export interface Residual {
  readonly feature: FeatureKey;
  readonly value: number;
  /** Standard uncertainty (k = 1). */
  readonly sd: number;
}

/**
 * What size matters, by feature, K (ampere as a fraction of the expectation): half the tolerances
 * of the trade or so, and what healthy units of one kind differ by. Our own choice.
 */
export const SIGNIFICANT: Readonly<Record<FeatureKey, number>> = {
  evaporating: 1.7,
  superheat: 2.2,
  condensing: 1.7,
  subcooling: 1.7,
  discharge: 4,
  compressorHeat: 4,
  airChange: 1.2,
  drierDrop: 0.8,
  current: 0.08,
};

/** A departure begins at half the significant size and is on average this many sizes more. */
const SHIFT = 0.5;
const MEAN_EXCESS = 2;
const SPREAD_OF_SAME = 0.6;

/** Density of a normal distribution. */
export function normalDensity(x: number, mean: number, sd: number): number {
  const z = (x - mean) / sd;
  return Math.exp(-0.5 * z * z) / (sd * Math.sqrt(2 * Math.PI));
}

/**
 * Density of shift + exponential(mean) + normal(sd): the departure of a fault of unknown severity,
 * seen through an uncertain measurement (exponentially modified Gaussian).
 */
function departureDensity(x: number, shift: number, mean: number, sd: number): number {
  const rate = 1 / mean;
  const z = x - shift;
  const exponent = 0.5 * rate * (rate * sd * sd - 2 * z);
  const tail = normalBelow((z - rate * sd * sd) / sd);
  // Far below the shift the product is 0 * infinity: there the asymptote of the normal tail.
  if (tail < 1e-4) return (normalDensity(z, 0, sd) * rate * sd * sd) / (rate * sd * sd - z);
  return rate * Math.exp(exponent) * tail;
}

/** How a residual fits the three classes. */
export function classFit(residual: Residual): ClassFit {
  const size = SIGNIFICANT[residual.feature];
  const { value, sd } = residual;
  return {
    below: departureDensity(-value, SHIFT * size, MEAN_EXCESS * size, sd),
    same: normalDensity(value, 0, Math.hypot(SPREAD_OF_SAME * size, sd)),
    above: departureDensity(value, SHIFT * size, MEAN_EXCESS * size, sd),
  };
}

type ClassShares = readonly [below: number, same: number, above: number];

/** How often a sign of the tables comes true: grossly developed faults, and mild ones. */
const GROSS: Readonly<Record<Sign, ClassShares>> = {
  '+': [0.03, 0.12, 0.85],
  '-': [0.85, 0.12, 0.03],
  '~': [0.08, 0.84, 0.08],
  '>': [0.05, 0.5, 0.45],
  '<': [0.45, 0.5, 0.05],
  '=': [0.01, 0.97, 0.02],
  o: [1 / 3, 1 / 3, 1 / 3],
};
const MILD: Readonly<Record<Sign, ClassShares>> = {
  '+': [0.04, 0.5, 0.46],
  '-': [0.46, 0.5, 0.04],
  '~': [0.06, 0.88, 0.06],
  '>': [0.05, 0.72, 0.23],
  '<': [0.23, 0.72, 0.05],
  '=': [0.01, 0.97, 0.02],
  o: [1 / 3, 1 / 3, 1 / 3],
};
/** Share of mild cases among faults that lead to a call. */
const MILD_SHARE = 0.35;

function shared(fit: ClassFit, shares: ClassShares): number {
  return shares[0] * fit.below + shares[1] * fit.same + shares[2] * fit.above;
}

/** Likelihood of one feature under one sign, gross and mild cases together: what evidence shows. */
export function signFit(fit: ClassFit, sign: Sign): number {
  return (1 - MILD_SHARE) * shared(fit, GROSS[sign]) + MILD_SHARE * shared(fit, MILD[sign]);
}

/** A feature's fit and how much it counts: 1, or less where two units share one expectation. */
export interface WeighedFit {
  readonly feature: FeatureKey;
  readonly fit: ClassFit;
  readonly weight: number;
}

/**
 * Likelihood of all residuals under one row of signs. Severity is common to the features of one
 * case, so gross and mild are mixed over the product and not feature by feature.
 */
export function rowFit(fits: readonly WeighedFit[], row: SignRow): number {
  let gross = 1;
  let mild = 1;
  for (const { feature, fit, weight } of fits) {
    gross *= shared(fit, GROSS[row.signs[feature]]) ** weight;
    mild *= shared(fit, MILD[row.signs[feature]]) ** weight;
  }
  return (1 - MILD_SHARE) * gross + MILD_SHARE * mild;
}

/** Likelihood under a suspect: its ways of showing, by their shares. */
export function rowsFit(fits: readonly WeighedFit[], rows: readonly SignRow[]): number {
  return rows.reduce((sum, row) => sum + row.share * rowFit(fits, row), 0);
}

/** Both units moved the same way: what their difference then is, nothing tells. */
const ALIKE: ClassShares = [0.3, 0.4, 0.3];

/** Shares of a difference a - b below, same, above, from those of a and of b. */
function differenceShares(a: ClassShares, b: ClassShares): ClassShares {
  const [aLow, aSame, aHigh] = a;
  const [bLow, bSame, bHigh] = b;
  const alike = aLow * bLow + aHigh * bHigh;
  return [
    aLow * (bSame + bHigh) + aSame * bHigh + alike * ALIKE[0],
    aSame * bSame + alike * ALIKE[1],
    aHigh * (bSame + bLow) + aSame * bLow + alike * ALIKE[2],
  ];
}

const GRADES = [
  { share: 1 - MILD_SHARE, of: GROSS },
  { share: MILD_SHARE, of: MILD },
] as const;

/** Likelihood of differences between two units (a minus b) under one row of signs for each. */
function pairRowFit(fits: readonly WeighedFit[], a: SignRow, b: SignRow): number {
  let sum = 0;
  for (const gradeA of GRADES) {
    for (const gradeB of GRADES) {
      let product = gradeA.share * gradeB.share;
      for (const { feature, fit, weight } of fits) {
        const shares = differenceShares(gradeA.of[a.signs[feature]], gradeB.of[b.signs[feature]]);
        product *= shared(fit, shares) ** weight;
      }
      sum += product;
    }
  }
  return sum;
}

/** Likelihood of differences between two units under a suspect for each. */
export function pairFit(
  fits: readonly WeighedFit[],
  a: readonly SignRow[],
  b: readonly SignRow[],
): number {
  let sum = 0;
  for (const rowA of a) {
    for (const rowB of b) sum += rowA.share * rowB.share * pairRowFit(fits, rowA, rowB);
  }
  return sum;
}
