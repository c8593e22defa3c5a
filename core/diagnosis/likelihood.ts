import { normalBelow } from '../steadiness/normal.ts';
import type { Sign, SignRow } from './signs.ts';
import type { FeatureKey } from './types.ts';

/**
 * How well a residual fits "below", "unchanged", "above": densities of the measured residual under
 * each, so that an uncertain measurement speaks softly by itself.
 */
export interface ClassFit {
  readonly same: number;
  /** Departures of grossly developed faults, and of mild ones. */
  readonly gross: Departures;
  readonly mild: Departures;
  /** Unchanged as in a sound unit: only what the expectation and the instruments leave open. */
  readonly sound: number;
  /** How often a sound unit departs, to each side. */
  readonly soundDeparts: number;
}

/** Departures to each side: of what a fault is made of ('++', '--'), and of what goes along with it. */
export interface Departures {
  readonly below: number;
  readonly above: number;
  readonly farBelow: number;
  readonly farAbove: number;
}

/** A measured residual: measured minus expected, standard uncertainty of both together. */
export interface Residual {
  readonly feature: FeatureKey;
  readonly value: number;
  /** Standard uncertainty (k = 1). */
  readonly sd: number;
  /** Whether a reading of this unit or of its like stands behind the expectation; false for rules. */
  readonly known?: boolean;
  /** Standard uncertainty of the part of the expectation's error that all residuals which have it share, K. */
  readonly shared?: number;
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
  liquidApproach: 2,
  discharge: 4,
  compressorHeat: 4,
  airChange: 1.2,
  drierDrop: 0.8,
  current: 0.08,
};

/**
 * Where departures of gross and of mild faults begin, and how much more they are on average, sizes.
 * What a fault is made of ('++', '--') goes further than what goes along with it.
 */
const EXCESS = {
  gross: { shift: 1, mean: 1.5, far: 3 },
  mild: { shift: 0.5, mean: 1.1, far: 1.8 },
} as const;
/** Where another fault is at work, "unchanged" is only about so; in a sound unit it is more so. */
const SPREAD_OF_SAME = 0.6;
const SPREAD_OF_SOUND = 0.4;

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
  const departures = ({ shift, mean, far }: (typeof EXCESS)['gross' | 'mild']): Departures => ({
    below: departureDensity(-value, shift * size, mean * size, sd),
    above: departureDensity(value, shift * size, mean * size, sd),
    farBelow: departureDensity(-value, shift * size, far * size, sd),
    farAbove: departureDensity(value, shift * size, far * size, sd),
  });
  return {
    same: normalDensity(value, 0, Math.hypot(SPREAD_OF_SAME * size, sd)),
    gross: departures(EXCESS.gross),
    mild: departures(EXCESS.mild),
    sound: normalDensity(value, 0, Math.hypot(SPREAD_OF_SOUND * size, sd)),
    soundDeparts: residual.known === true ? SOUND_DEPARTS.byReading : SOUND_DEPARTS.byRule,
  };
}

type ClassShares = readonly [below: number, same: number, above: number];
/** How often signs come true, and in which size, in cases of one grade. */
interface Grade {
  readonly share: number;
  readonly size: 'gross' | 'mild';
  /** All signs but that of a sound unit, which departs as its expectation lets it. */
  readonly of: Readonly<Record<Exclude<Sign, 'h'>, ClassShares>>;
}
/**
 * Share of sound units that depart to one side, from an expectation that says how far it is sure: general
 * rules do not know every make; from its own healthy reading a sound unit hardly ever does.
 */
const SOUND_DEPARTS = { byRule: 0.03, byReading: 0.006 } as const;

/** How often a sign of the tables comes true: grossly developed faults, and mild ones. */
const GROSS: Grade['of'] = {
  '++': [0.01, 0.04, 0.95],
  '--': [0.95, 0.04, 0.01],
  '+': [0.03, 0.12, 0.85],
  '-': [0.85, 0.12, 0.03],
  '~': [0.08, 0.84, 0.08],
  '^': [0.01, 0.84, 0.15],
  '>': [0.05, 0.5, 0.45],
  '>>': [0.01, 0.5, 0.49],
  '<': [0.45, 0.5, 0.05],
  '=': [0.003, 0.993, 0.004],
  o: [1 / 3, 1 / 3, 1 / 3],
};
const MILD: Grade['of'] = {
  '++': [0.02, 0.23, 0.75],
  '--': [0.75, 0.23, 0.02],
  '+': [0.04, 0.5, 0.46],
  '-': [0.46, 0.5, 0.04],
  '~': [0.06, 0.88, 0.06],
  '^': [0.01, 0.88, 0.11],
  '>': [0.05, 0.72, 0.23],
  '>>': [0.01, 0.6, 0.39],
  '<': [0.23, 0.72, 0.05],
  '=': [0.003, 0.993, 0.004],
  o: [1 / 3, 1 / 3, 1 / 3],
};
/** Share of mild cases among faults that lead to a call. */
const MILD_SHARE = 0.35;

const GRADES: readonly Grade[] = [
  { share: 1 - MILD_SHARE, size: 'gross', of: GROSS },
  { share: MILD_SHARE, size: 'mild', of: MILD },
];

function sharesOf({ soundDeparts }: ClassFit, sign: Sign, grade: Grade): ClassShares {
  return sign === 'h' ? [soundDeparts, 1 - 2 * soundDeparts, soundDeparts] : grade.of[sign];
}

function shared(fit: ClassFit, sign: Sign, grade: Grade): number {
  const [below, same, above] = sharesOf(fit, sign, grade);
  const departed = fit[grade.size];
  const still = sign === 'h' ? fit.sound : fit.same;
  const down = sign === '--' ? departed.farBelow : departed.below;
  const up = sign === '++' || sign === '>>' ? departed.farAbove : departed.above;
  return below * down + same * still + above * up;
}

/** Likelihood of one feature under one sign, gross and mild cases together: what evidence shows. */
export function signFit(fit: ClassFit, sign: Sign): number {
  return GRADES.reduce((sum, grade) => sum + grade.share * shared(fit, sign, grade), 0);
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
  return GRADES.reduce((sum, grade) => {
    let product = grade.share;
    for (const { feature, fit, weight } of fits) {
      product *= shared(fit, row.signs[feature], grade) ** weight;
    }
    return sum + product;
  }, 0);
}

/** Likelihood under a suspect: its ways of showing, by their shares. */
export function rowsFit(fits: readonly WeighedFit[], rows: readonly SignRow[]): number {
  return rows.reduce((sum, row) => sum + row.share * rowFit(fits, row), 0);
}

/** Both units moved the same way: what their difference then is, nothing tells. */
const ALIKE: ClassShares = [0.3, 0.4, 0.3];
/** ... unless it is what the fault of the first is made of: then that one moved further. */
const FURTHER_UP: ClassShares = [0.15, 0.35, 0.5];
const FURTHER_DOWN: ClassShares = [0.5, 0.35, 0.15];

function alikeShares(far: Sign, a: Sign, b: Sign): ClassShares {
  if ((a === far) === (b === far)) return ALIKE;
  return (a === far) === (far === '++') ? FURTHER_UP : FURTHER_DOWN;
}

/** Shares of a difference a - b below, same, above, from those of a and of b. */
function differenceShares(a: ClassShares, signA: Sign, b: ClassShares, signB: Sign): ClassShares {
  const [aLow, aSame, aHigh] = a;
  const [bLow, bSame, bHigh] = b;
  const up = alikeShares('++', signA, signB);
  const down = alikeShares('--', signA, signB);
  const alike = (i: 0 | 1 | 2): number => aHigh * bHigh * up[i] + aLow * bLow * down[i];
  return [
    aLow * (bSame + bHigh) + aSame * bHigh + alike(0),
    aSame * bSame + alike(1),
    aHigh * (bSame + bLow) + aSame * bLow + alike(2),
  ];
}

/** Fit of a difference: two sound units differ only as like units do. */
function pairedFit(fit: ClassFit, a: Sign, gradeA: Grade, b: Sign, gradeB: Grade): number {
  const [below, same, above] = differenceShares(
    sharesOf(fit, a, gradeA),
    a,
    sharesOf(fit, b, gradeB),
    b,
  );
  const still = a === 'h' && b === 'h' ? fit.sound : fit.same;
  // The larger of two departures makes the difference.
  const departed = fit[gradeA.size === 'gross' ? 'gross' : gradeB.size];
  const down = a === '--' || b === '++' ? departed.farBelow : departed.below;
  const up = a === '++' || b === '--' ? departed.farAbove : departed.above;
  return below * down + same * still + above * up;
}

/** Likelihood of differences between two units (a minus b) under one row of signs for each. */
function pairRowFit(fits: readonly WeighedFit[], a: SignRow, b: SignRow): number {
  let sum = 0;
  for (const gradeA of GRADES) {
    for (const gradeB of GRADES) {
      let product = gradeA.share * gradeB.share;
      for (const { feature, fit, weight } of fits) {
        product *= pairedFit(fit, a.signs[feature], gradeA, b.signs[feature], gradeB) ** weight;
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
