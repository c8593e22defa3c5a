import { FREEZING_K } from '../units/temperature.ts';
import type { LoneStep, Mode } from '../circuit/types.ts';
import type { Conditions } from './conditions.ts';
import type { Expectations, ExpectationSource } from './expectations.ts';
import type { Features } from './features.ts';
import { checkRow, outcomeGiven, type CheckKey } from './checks-table.ts';
import { contradictionLikelihood, contradictions, type Impossible } from './impossible.ts';
import { classFit, rowsFit, signFit, type ClassFit, type Residual } from './likelihood.ts';
import { overSharedError } from './shared-error.ts';
import type { SignTable } from './signs.ts';
import { bySuspect, type BySuspect, type SuspectKey } from './suspects.ts';
import {
  FEATURE_KEYS,
  type FeatureKey,
  type JudgementInput,
  type ObservationKey,
  type RunPattern,
  type StoodStill,
} from './types.ts';

/** One piece of evidence and how well each suspect explains it. */
export interface Evidence {
  readonly item: EvidenceItem;
  readonly likelihood: BySuspect;
}

/** What the piece is: put into words by `words.ts`. */
export type EvidenceItem =
  | {
      readonly kind: 'residual';
      readonly feature: FeatureKey;
      readonly measured: number;
      readonly expected: number;
      /** Measured minus expected and the expanded uncertainty of that, k = 2. */
      readonly residual: number;
      readonly u: number;
      readonly source: ExpectationSource;
    }
  | {
      readonly kind: 'difference';
      readonly feature: FeatureKey;
      /** The unit it is compared with. */
      readonly other: string;
      /** This unit minus the other, corrected for the conditions, k = 2. */
      readonly difference: number;
      readonly u: number;
    }
  | { readonly kind: 'hunting' }
  | { readonly kind: 'pattern'; readonly pattern: RunPattern }
  | { readonly kind: 'stood'; readonly stood: StoodStill }
  | { readonly kind: 'observation'; readonly observation: ObservationKey }
  | { readonly kind: 'outcome'; readonly check: CheckKey; readonly outcome: string }
  | { readonly kind: 'impossible'; readonly what: Impossible; readonly by: number }
  | { readonly kind: 'movedAlone'; readonly step: LoneStep }
  | { readonly kind: 'belowFreezing'; readonly evaporating: number }
  | { readonly kind: 'plausible' };

/** A residual with what it was made of. */
export type MeasuredResidual = Residual & { readonly item: EvidenceItem & { kind: 'residual' } };

/** The residuals of a snapshot against its expectations. */
export function residualsOf(features: Features, expectations: Expectations): MeasuredResidual[] {
  const residuals = [];
  for (const feature of FEATURE_KEYS) {
    const measured = features[feature];
    const expected = expectations[feature];
    if (measured === undefined || expected === undefined) continue;
    const u = Math.hypot(measured.u, expected.u);
    const difference = measured.value - expected.value;
    // Amperes are compared as a fraction: compressors differ in size.
    const scale = feature === 'current' ? expected.value : 1;
    residuals.push({
      feature,
      value: difference / scale,
      sd: Math.max(u / 2 / scale, 1e-6),
      known: expected.source === 'baseline',
      shared: (expected.ofCoil ?? 0) / 2,
      item: {
        kind: 'residual' as const,
        feature,
        measured: measured.value,
        expected: expected.value,
        residual: difference,
        u,
        source: expected.source,
      },
    });
  }
  return residuals;
}

/**
 * Condensing, subcooling and the liquid line's approach are two independent numbers, not three: where
 * all are there the first and the last count for less; by general rules, whose error (how large the
 * coil is) both share, for still less. Chosen on the tuning half.
 */
const TIED = ['condensing', 'subcooling', 'liquidApproach'] as const;
/** Residuals of a published table have no source of an expectation. */
type MaybeSourced = Residual & { readonly item?: EvidenceItem & { kind: 'residual' } };
const TIED_WEIGHT = 0.8;
const TIED_RULE_WEIGHT = 0.6;

function tiedWeight(residuals: readonly MaybeSourced[], feature: FeatureKey): number {
  if (feature !== 'condensing' && feature !== 'liquidApproach') return 1;
  const tied = TIED.map((key) => residuals.find((r) => r.feature === key));
  if (tied.some((r) => r === undefined)) return 1;
  return tied[0]?.item?.source === 'rule' ? TIED_RULE_WEIGHT : TIED_WEIGHT;
}

/** Joint likelihood of all residuals under each suspect. */
export function residualLikelihood(
  residuals: readonly MaybeSourced[],
  table: SignTable,
  weightOf: (feature: FeatureKey) => number = () => 1,
): BySuspect {
  const places = overSharedError(residuals).map(({ weight, residuals: at }) => ({
    weight,
    fits: at.map((r) => ({
      feature: r.feature,
      fit: classFit(r),
      weight: weightOf(r.feature) * tiedWeight(residuals, r.feature),
    })),
  }));
  return bySuspect((key) =>
    places.reduce((sum, { weight, fits }) => sum + weight * rowsFit(fits, table[key]), 0),
  );
}

/** Likelihood of one residual alone: what is shown as evidence for and against. */
export function singleLikelihood(residual: Residual, table: SignTable): BySuspect {
  const fit: ClassFit = classFit(residual);
  return bySuspect((key) =>
    table[key].reduce((sum, row) => sum + row.share * signFit(fit, row.signs[residual.feature]), 0),
  );
}

/**
 * Probability of a swing of slight, small, middling and large amplitude under each suspect, our own
 * estimates: a sound valve that fits its coil holds its superheat, and what it still swings by is small
 * (common practice: a valve seeks its place, and a few degrees of it harm nothing); a valve too large for
 * the flow it gets swings further, so that a compressor that pumps less, or an evaporating coil with little
 * air, can set it swinging, and so can flashing liquid.
 */
type ByAmplitude = readonly [slight: number, small: number, middling: number, large: number];
const HUNTING: Partial<Readonly<Record<SuspectKey, ByAmplitude>>> = {
  nothingWrong: [0.05, 0.03, 0.004, 0.001],
  valveHunting: [0.1, 0.22, 0.38, 0.28],
  valveOpen: [0.05, 0.08, 0.07, 0.05],
  compressorValveLeak: [0.05, 0.14, 0.13, 0.05],
  reversingValveLeak: [0.05, 0.14, 0.13, 0.05],
};
const HUNTING_OTHERWISE: ByAmplitude = [0.06, 0.08, 0.03, 0.015];
/** The coil that evaporates gets little air: indoors in cooling, outdoors in heating. */
const HUNTING_LITTLE_AIR: ByAmplitude = [0.06, 0.1, 0.07, 0.03];
/** In heating a valve works far from what it was chosen for: there a sound one swings more often. */
const HUNTING_SOUND_HEATING: ByAmplitude = [0.08, 0.05, 0.01, 0.003];
/** Amplitudes (half of peak to peak) that part slight, small, middling and large, K. */
const BANDS_K = [1, 1.7, 3.5] as const;

function huntingBands(key: SuspectKey, mode: Mode): ByAmplitude {
  if (key === (mode === 'heating' ? 'fouledOutdoorCoil' : 'lowIndoorAir'))
    return HUNTING_LITTLE_AIR;
  if (key === 'nothingWrong' && mode === 'heating') return HUNTING_SOUND_HEATING;
  return HUNTING[key] ?? HUNTING_OTHERWISE;
}

function huntingEvidence(input: JudgementInput): Evidence {
  const { mode } = input.config;
  if (input.content.state !== 'hunting') {
    const still = (key: SuspectKey): number =>
      1 - huntingBands(key, mode).reduce((sum, p) => sum + p, 0);
    return { item: { kind: 'plausible' }, likelihood: bySuspect(still) };
  }
  const { reason } = input.content;
  const amplitude = reason.code === 'swinging' ? reason.amplitude : BANDS_K[1];
  const band = BANDS_K.filter((edge) => amplitude >= edge).length;
  return {
    item: { kind: 'hunting' },
    likelihood: bySuspect((key) => huntingBands(key, mode)[band] ?? 0),
  };
}

/**
 * Probability that a person sees it under each suspect, and otherwise: our own estimates from
 * common practice. Oil speaks for a leak; ice for air first, then for little refrigerant.
 */
const OBSERVED: Readonly<Record<ObservationKey, Partial<BySuspect> & { readonly other: number }>> =
  {
    icedCoil: {
      icedCoil: 0.95,
      lowIndoorAir: 0.3,
      lowCharge: 0.12,
      liquidLineRestriction: 0.12,
      valveStarved: 0.12,
      cannotTell: 0.05,
      nothingWrong: 0.002,
      other: 0.01,
    },
    dirtyFilter: { lowIndoorAir: 0.7, icedCoil: 0.6, cannotTell: 0.2, other: 0.15 },
    fouledOutdoorCoil: { fouledOutdoorCoil: 0.85, cannotTell: 0.2, other: 0.15 },
    oilTraces: { lowCharge: 0.35, nonCondensables: 0.12, other: 0.06 },
    burntContacts: { shortCycling: 0.5, other: 0.05 },
    // Weighed in by a person: the amount is then right unless the scale or the plate is wrong.
    equalChargeWeighed: { lowCharge: 0.04, overcharge: 0.04, other: 0.5 },
  };

/** In heating the coil that ices stands outdoors, and the indoor air has no part in it. */
const ICED_OUTDOORS: (typeof OBSERVED)['icedCoil'] = {
  ...OBSERVED.icedCoil,
  fouledOutdoorCoil: 0.12,
  lowIndoorAir: 0.01,
};

/** Evidence that is not a residual: state, run pattern, what a person saw, checks made. */
export function otherEvidence(input: JudgementInput): Evidence[] {
  const evidence: Evidence[] = movedAloneEvidence(input);
  if (input.config.metering !== 'fixed' && !unreadable(input)) {
    evidence.push(huntingEvidence(input));
  }
  if (input.pattern !== null) evidence.push(patternEvidence(input.pattern));
  // A person who made the standing check waited for it, and knows better.
  const checked = input.outcomes.some(({ check }) => check === 'standing');
  if (input.stood !== null && !checked) evidence.push(stoodEvidence(input.stood));
  for (const observation of input.observations) {
    const outdoors = observation === 'icedCoil' && input.config.mode === 'heating';
    const row = outdoors ? ICED_OUTDOORS : OBSERVED[observation];
    evidence.push({
      item: { kind: 'observation', observation },
      likelihood: bySuspect((key) => row[key] ?? row.other),
    });
  }
  for (const { check, outcome } of input.outcomes) {
    const row = checkRow(check);
    const index = Object.keys(row.outcomes).indexOf(outcome);
    if (index < 0) continue;
    evidence.push({
      item: { kind: 'outcome', check, outcome },
      likelihood: bySuspect((key) => outcomeGiven(row, index, key, input.config.mode)),
    });
  }
  return evidence;
}

function unreadable(input: JudgementInput): boolean {
  return input.content.state !== 'settled' && input.content.state !== 'hunting';
}

/** Runs this short, and this many an hour, are short cycling, s and 1/h. */
const SHORT_RUN_S = 480;
const STARTS_PER_HOUR = 5;

/**
 * Probability of many short runs under each suspect, our own estimates: what opens a pressure
 * switch can make them; a sound unit hardly ever does. That the unit cycles is what is seen, so the
 * suspect of that name explains it always.
 */
const CYCLES: Partial<BySuspect> = {
  shortCycling: 0.97,
  nothingWrong: 0.0005,
  lowCharge: 0.006,
  overcharge: 0.006,
  lowIndoorAir: 0.006,
  icedCoil: 0.02,
  fouledOutdoorCoil: 0.006,
  liquidLineRestriction: 0.006,
  nonCondensables: 0.006,
  cannotTell: 0.01,
};

function patternEvidence(pattern: RunPattern): Evidence {
  const perHour = pattern.starts / Math.max(pattern.span / 3600, 0.25);
  const short =
    pattern.starts >= 3 &&
    pattern.medianRun !== null &&
    pattern.medianRun < SHORT_RUN_S &&
    perHour > STARTS_PER_HOUR;
  const p = (key: SuspectKey): number => CYCLES[key] ?? 0.002;
  return {
    item: short ? { kind: 'pattern', pattern } : { kind: 'plausible' },
    likelihood: bySuspect((key) => (short ? p(key) : 1 - p(key))),
  };
}

/**
 * Probability that a unit at rest stands below and above saturation of the air around it, our own
 * estimates. Nobody made sure that everything had the temperature of that air, so that a sound unit
 * does so more often here than in the standing check.
 */
const STANDS: Partial<Readonly<Record<SuspectKey, readonly [below: number, above: number]>>> = {
  nonCondensables: [0.01, 0.75],
  wrongRefrigerant: [0.45, 0.45],
  lowCharge: [0.1, 0.03],
  sensorFault: [0.18, 0.18],
  cannotTell: [0.1, 0.12],
};
const STANDS_OTHERWISE = [0.03, 0.05] as const;
/** Airs no further apart than this are one place to the liquid; the wider, the more they hide, K. */
const ONE_PLACE_K = 3;

/** How much of a gas or of another refrigerant shows between the coldest and the warmest air, 0 to 1. */
export function standingPower({ coldest, warmest }: StoodStill): number {
  return Math.min(1, ONE_PLACE_K / Math.max(warmest - coldest, 1e-9));
}

function stoodEvidence(stood: StoodStill): Evidence {
  const power = standingPower(stood);
  const p = (key: SuspectKey): number => {
    const [below, above] = STANDS[key] ?? STANDS_OTHERWISE;
    const agrees = 1 - power * (below + above);
    const { probability } = stood;
    return (
      probability.below * power * below +
      probability.above * power * above +
      probability.agrees * agrees
    );
  };
  return { item: { kind: 'stood', stood }, likelihood: bySuspect(p) };
}

/** Readings that contradict each other, the two gravest; or that none do. */
export function impossibleEvidence(
  features: Features,
  conditions: Conditions,
  input: JudgementInput,
): Evidence[] {
  const found = contradictions(features, conditions, input.content, input.config);
  if (found.length === 0) {
    return [{ item: { kind: 'plausible' }, likelihood: contradictionLikelihood(null) }];
  }
  return found.slice(0, 2).map((one) => ({
    item: { kind: 'impossible', what: one.what, by: one.by },
    likelihood: contradictionLikelihood(one),
  }));
}

/**
 * Probability that a clamp's temperature steps alone under each suspect, our own estimates: what a circuit
 * does moves its pressures too.
 */
const MOVES_ALONE: Partial<BySuspect> = { sensorFault: 0.4, cannotTell: 0.02 };
const MOVES_ALONE_OTHERWISE = 0.004;

/** A clamp that moved alone since the unit started. */
function movedAloneEvidence(input: JudgementInput): Evidence[] {
  return (input.content.movedAlone ?? []).map((step) => ({
    item: { kind: 'movedAlone', step },
    likelihood: bySuspect((key) => MOVES_ALONE[key] ?? MOVES_ALONE_OTHERWISE),
  }));
}

/** Probability that the coil evaporates below freezing, in cooling: our own estimates. */
const FREEZES: Partial<BySuspect> = {
  icedCoil: 0.95,
  lowIndoorAir: 0.35,
  lowCharge: 0.25,
  liquidLineRestriction: 0.3,
  valveStarved: 0.3,
  cannotTell: 0.2,
};
const FREEZES_OTHERWISE = 0.1;

/**
 * An evaporating coil surely below freezing, or surely above: ice needs the one. In heating below
 * freezing is as usual, and says nothing.
 */
export function freezingEvidence(features: Features, input: JudgementInput): Evidence[] {
  const { evaporating } = features;
  if (evaporating === undefined) return [];
  const p = (key: SuspectKey): number => FREEZES[key] ?? FREEZES_OTHERWISE;
  if (evaporating.value + evaporating.u < FREEZING_K) {
    if (input.config.mode === 'heating') return [];
    const item = { kind: 'belowFreezing', evaporating: evaporating.value } as const;
    return [{ item, likelihood: bySuspect(p) }];
  }
  if (evaporating.value - evaporating.u < FREEZING_K) return [];
  // What else keeps above freezing is in the residual of evaporating already.
  const likelihood = bySuspect((key) => (key === 'icedCoil' ? 0.05 : 1));
  return [{ item: { kind: 'plausible' }, likelihood }];
}
