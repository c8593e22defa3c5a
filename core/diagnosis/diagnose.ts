import type { Mode } from '../circuit/types.ts';
import type { Conditions } from './conditions.ts';
import { isUnlikeShortage, leavesChargeOpen } from './charge-told.ts';
import { CHECK_KEYS, checkRow, type CheckKey } from './checks-table.ts';
import {
  freezingEvidence,
  impossibleEvidence,
  otherEvidence,
  residualLikelihood,
  residualsOf,
  singleLikelihood,
  type Evidence,
  type EvidenceItem,
} from './evidence.ts';
import { expectationsFor } from './expectations.ts';
import { featuresOf } from './features.ts';
import {
  checksDone,
  CONFIRM,
  confirmation,
  information,
  isFound,
  kinOf,
  nextOf,
  separating,
  worth,
  type NextCheck,
} from './next-check.ts';
import { isShown, reversingValveInDoubt } from './shown.ts';
import { signTable } from './signs.ts';
import {
  bySuspect,
  normalised,
  priors,
  SUSPECT_KEYS,
  updated,
  type BySuspect,
  type SuspectKey,
} from './suspects.ts';
import {
  boundOfSound,
  bounded,
  canBeCalledSound,
  DECIDED,
  fittingFault,
  oneStandsOut,
  returnsTooWarm,
  SURE_WITHIN,
} from './sound-bound.ts';
import type { FeatureKey, JudgementInput, Target, VerdictRow } from './types.ts';

/** A piece of evidence as it bears on one suspect: the weight is ln of the likelihood ratio. */
export interface Weighed {
  readonly item: EvidenceItem;
  readonly weight: number;
}

/** A possible cause with the evidence for and against it, strongest first. */
export interface Suspect {
  readonly key: SuspectKey;
  readonly probability: number;
  readonly for: readonly Weighed[];
  readonly against: readonly Weighed[];
  /** The check that separates it from its rivals; null where none does. */
  readonly nextCheck: NextCheck | null;
}

/** Why it cannot be told, where that is more than that no cause is ahead of the others. */
export type LeftOpen =
  /** The charge leads, but the reading that tells of it is not off its target ({@link leavesChargeOpen}). */
  | { readonly code: 'CHARGE_UNDECIDED'; readonly quantity: 'superheat' | 'subcooling' }
  /** A shortage leads, but evaporating is higher than a shortage makes it ({@link isUnlikeShortage}). */
  | { readonly code: 'UNLIKE_SHORTAGE' }
  /** It reads as sound, but the air that returns is warmer than any table knows ({@link returnsTooWarm}). */
  | { readonly code: 'WARM_RETURN' }
  /** It read as sound, but something was seen to change after the readings that are judged. */
  | { readonly code: 'CHANGED_AFTER' };

/** What the evidence comes to. 'cannotTell' and 'nothingWrong' are answers. */
export interface Diagnosis {
  readonly answer: 'suspect' | 'nothingWrong' | 'cannotTell';
  /** All suspects that can exist in this unit, most probable first. */
  readonly suspects: readonly Suspect[];
  readonly nextCheck: NextCheck | null;
  /**
   * Where a sound unit is likeliest but cannot be called so: the fault that the readings fit nearly as well.
   * Null where none does, and in heating, where a fault that nothing shows is not named.
   */
  readonly fits: SuspectKey | null;
  /** What keeps the answer open although one cause leads, or none at all; null where nothing of this kind does. */
  readonly open: LeftOpen | null;
  /** Checks in the order of information per minute. */
  readonly checks: readonly NextCheck[];
}

/**
 * Share of the evidence of the residuals that counts: they share sensors and expectations, so they
 * are not as many independent witnesses as there are of them. Fitted on the tuning half of
 * `bench:diagnosis`.
 */
export const INDEPENDENCE = 0.95;
/** Nothing is called wrong until it is this much likelier than nothing, and no answer below this. */
const ANSWER_MARGIN = 2.5;
const ANSWER_FLOOR = 0.35;
/** In cooling a charge is accused where it is likelier than not: who is told so recovers or adds. */
const CHARGE_FLOOR = 0.5;
/** Nothing is called sound while faults together hold more than the rest of this. */
const SOUND_FLOOR = 0.6;

/** The evidence of one unit: residuals one by one for showing, their joint weight for counting. */
export interface UnitEvidence {
  /** False where preconditions forbid reading the figures. */
  readonly readable: boolean;
  /** Whether differences to a like unit are among it. */
  readonly compared: boolean;
  readonly prior: BySuspect;
  readonly posterior: BySuspect;
  readonly pieces: readonly Evidence[];
}

/**
 * Collects and weighs the evidence of one unit.
 *
 * @param readable false where preconditions forbid reading the figures: then only what persons saw
 *   and did, and the run pattern, count
 * @param weightOf how much the residual of a feature counts, 0 to 1
 */
export function weigh(
  input: JudgementInput,
  conditions: Conditions,
  targets: readonly Target[],
  readable: boolean,
  weightOf: (feature: FeatureKey) => number = () => 1,
): UnitEvidence {
  const { config } = input;
  const prior = priors(config.metering, config.mode, input.heatPump);
  const pieces: Evidence[] = otherEvidence(input);
  let posterior = pieces.reduce((p, e) => updated(p, e.likelihood), prior);
  if (readable) {
    const table = signTable(config.metering, config.mode);
    const features = featuresOf(input.content, config);
    const residuals = residualsOf(features, expectationsFor(input, conditions, targets));
    const joint = residualLikelihood(residuals, table, weightOf);
    posterior = updated(posterior, tempered(joint, INDEPENDENCE));
    for (const residual of residuals) {
      pieces.push({ item: residual.item, likelihood: singleLikelihood(residual, table) });
    }
    const others = [
      ...impossibleEvidence(features, conditions, input),
      ...freezingEvidence(features, input),
    ];
    for (const piece of others) {
      posterior = updated(posterior, piece.likelihood);
      pieces.push(piece);
    }
  }
  return { readable, compared: false, prior, posterior, pieces };
}

/** Likelihoods to a power, scaled so that the largest is one. */
export function tempered(likelihood: BySuspect, power: number): BySuspect {
  const top = Math.max(...SUSPECT_KEYS.map((key) => likelihood[key]));
  return bySuspect((key) => (top > 0 ? (likelihood[key] / top) ** power : 1));
}

/** Nothing is known of a unit that cannot be read and of which nobody saw or did anything. */
const NOTHING_KNOWN: Diagnosis = {
  answer: 'cannotTell',
  suspects: [],
  nextCheck: null,
  fits: null,
  open: null,
  checks: [],
};

/**
 * Ranks the suspects, with evidence in words' reach and the checks that separate them. Where the
 * figures cannot be read, only a cause that some other evidence (a finding, a check, the run
 * pattern, ice) raises is named; without any there is no ranking and no check: what lifts the
 * refusal comes first.
 *
 * @param verdicts bound how likely "nothing wrong" can be
 */
export function conclude(
  evidence: UnitEvidence,
  input: JudgementInput,
  verdicts: readonly VerdictRow[],
): Diagnosis {
  const { readable, prior, pieces } = evidence;
  const { mode } = input.config;
  const bound = boundOfSound(verdicts, input);
  const sure = maySaySound(evidence, input, bound);
  const posterior = bounded(evidence.posterior, bound);
  const raised = readable ? null : raisedBy(evidence);
  if (raised?.length === 0) return NOTHING_KNOWN;
  const done = checksDone(input, pieces);
  const unit = { ...input.config, heatPump: input.heatPump };
  const possible = CHECK_KEYS.filter(
    (key) => !done.has(key) && (checkRow(key).fits?.(unit) ?? true),
  );
  const checks = possible
    .map((check) => ({ check, ...worth(check, information(posterior, check, mode)) }))
    .filter((c) => c.bits > 0.005)
    .sort((a, b) => b.bitsPerMinute - a.bitsPerMinute);
  const suspects = SUSPECT_KEYS.filter((key) => prior[key] > 0 && (raised?.includes(key) ?? true))
    .map((key): Suspect => ({
      key,
      probability: posterior[key],
      ...sides(key, prior, pieces),
      nextCheck: key === 'cannotTell' ? null : separating(key, posterior, possible, mode),
    }))
    .sort((a, b) => b.probability - a.probability);
  if (raised === null) {
    const nothing = bound < DECIDED ? bound : evidence.posterior.nothingWrong;
    const led = shownOf(answerOf(suspects, nothing, sure, mode), suspects, pieces, input);
    const open = leftOpen(led, suspects[0], evidence, input, verdicts);
    const answer = open === null ? led : 'cannotTell';
    const fits = fitsBeside(answer, suspects, evidence, mode);
    return {
      answer,
      suspects,
      nextCheck:
        pumpFirst(open, checks) ??
        asked({ answer, suspects, checks }, posterior, possible, pieces, input),
      fits,
      open,
      checks,
    };
  }
  return raisedAlone(raised, suspects, posterior, possible, mode);
}

/** What is asked next; where the readings have told, what confirms it before costly work. */
function asked(
  { answer, suspects, checks }: Pick<Diagnosis, 'answer' | 'suspects' | 'checks'>,
  posterior: BySuspect,
  possible: readonly CheckKey[],
  pieces: readonly Evidence[],
  input: JudgementInput,
): NextCheck | null {
  const { mode } = input.config;
  const [first] = suspects;
  const next = isFound(first, posterior, pieces, input)
    ? null
    : (touchFirst(answer, checks, pieces, mode) ??
      nextOf(suspects, posterior, possible, mode) ??
      checks[0] ??
      null);
  return next ?? (answer === 'suspect' ? confirmation(first, posterior, input) : null);
}

/** What is concluded where the figures may not be read: only of the causes that something else raises. */
function raisedAlone(
  raised: readonly SuspectKey[],
  suspects: readonly Suspect[],
  posterior: BySuspect,
  possible: readonly CheckKey[],
  mode: Mode,
): Diagnosis {
  // What no evidence speaks for asks for no check: only what parts those that are raised.
  const belief = normalised(bySuspect((key) => (raised.includes(key) ? posterior[key] : 0)));
  const parting = possible
    .map((check) => ({ check, ...worth(check, information(belief, check, mode)) }))
    .filter((c) => c.bits > 0.02)
    .sort((x, y) => y.bitsPerMinute - x.bitsPerMinute);
  const [first] = suspects;
  const held =
    first === undefined ? 0 : kinOf(first.key, mode).reduce((p, key) => p + posterior[key], 0);
  const confirming = held >= CONFIRM ? first?.nextCheck : null;
  return {
    answer: held >= UNREAD_FLOOR ? 'suspect' : 'cannotTell',
    suspects,
    nextCheck: confirming ?? parting[0] ?? first?.nextCheck ?? null,
    fits: null,
    open: null,
    checks: parting,
  };
}

/** Whether the evidence lets "nothing wrong" be said at all. */
function maySaySound(evidence: UnitEvidence, input: JudgementInput, bound: number): boolean {
  const { compared, pieces, prior, posterior } = evidence;
  return (
    bound >= SURE_WITHIN &&
    canBeCalledSound(input, compared) &&
    !oneStandsOut(pieces) &&
    fittingFault(prior, posterior) === null
  );
}

/** Without the figures a cause is named from this probability on. */
const UNREAD_FLOOR = 0.5;
/** A suspect counts as raised from this weight (ln of the likelihood ratio) of all its evidence on. */
const RAISED = 0.7;

/** The faults that what is known beside the figures speaks for. */
function raisedBy(evidence: UnitEvidence): readonly SuspectKey[] {
  const speaking = evidence.pieces.filter((piece) => piece.item.kind !== 'plausible');
  if (speaking.length === 0) return [];
  return SUSPECT_KEYS.filter((key) => {
    if (key === 'nothingWrong' || key === 'cannotTell' || evidence.prior[key] === 0) return false;
    // Against what most causes make of it, so that one that explains it best does not hide the rest.
    const weight = speaking.reduce(
      (sum, { likelihood }) => sum + Math.log(likelihood[key] / middle(likelihood)),
      0,
    );
    return weight > RAISED;
  });
}

function middle(likelihood: BySuspect): number {
  const all = SUSPECT_KEYS.map((key) => likelihood[key]).sort((a, b) => a - b);
  return all[Math.floor(all.length / 2)] ?? 1;
}

/**
 * @param nothing how likely "nothing wrong" is by the evidence alone, or by its bound where a verdict is
 *   decided: an undecided one keeps from "nothing wrong", but does not by itself accuse
 * @param sure whether "nothing wrong" may be said at all
 */
function answerOf(
  suspects: readonly Suspect[],
  nothing: number,
  sure: boolean,
  mode: Mode,
): Diagnosis['answer'] {
  const [top] = suspects.filter((s) => s.key !== 'nothingWrong');
  if (top === undefined || nothing * ANSWER_MARGIN >= top.probability) {
    const leads = suspects[0]?.key === 'nothingWrong' && suspects[0].probability >= SOUND_FLOOR;
    return leads && sure ? 'nothingWrong' : 'cannotTell';
  }
  const charge = mode === 'cooling' && (top.key === 'lowCharge' || top.key === 'overcharge');
  const floor = charge ? CHARGE_FLOOR : ANSWER_FLOOR;
  return top.key === 'cannotTell' || top.probability < floor ? 'cannotTell' : 'suspect';
}

/** In heating a fault is named only where something shows it ({@link isShown}). */
function shownOf(
  answer: Diagnosis['answer'],
  suspects: readonly Suspect[],
  pieces: readonly Evidence[],
  { config }: JudgementInput,
): Diagnosis['answer'] {
  const named = suspects.find((s) => s.key !== 'nothingWrong');
  if (answer !== 'suspect' || config.mode !== 'heating' || named === undefined) return answer;
  const table = signTable(config.metering, config.mode);
  return isShown(named, pieces, table) ? answer : 'cannotTell';
}

/** What leaves an answer open, or tells why it is; null where nothing of this kind does. */
function leftOpen(
  answer: Diagnosis['answer'],
  accused: Suspect | undefined,
  { compared, pieces }: UnitEvidence,
  input: JudgementInput,
  verdicts: readonly VerdictRow[],
): LeftOpen | null {
  if (compared) return null;
  if (answer === 'nothingWrong') {
    return returnsTooWarm(input) ? { code: 'WARM_RETURN' } : null;
  }
  if (isUnlikeShortage(accused, input, pieces)) return { code: 'UNLIKE_SHORTAGE' };
  if (answer !== 'suspect') return null;
  const quantity = leavesChargeOpen(accused, input, verdicts);
  return quantity === null ? null : { code: 'CHARGE_UNDECIDED', quantity };
}

/** The fault that keeps from calling sound what most likely is ({@link Diagnosis.fits}). */
function fitsBeside(
  answer: Diagnosis['answer'],
  suspects: readonly Suspect[],
  { prior, posterior }: UnitEvidence,
  mode: Mode,
): SuspectKey | null {
  const soundLeads = answer === 'cannotTell' && suspects[0]?.key === 'nothingWrong';
  return soundLeads && mode === 'cooling' ? fittingFault(prior, posterior) : null;
}

/** Where heating leaves it open and the reversing valve may be what leaks, its two pipes tell first. */
function touchFirst(
  answer: Diagnosis['answer'],
  checks: readonly NextCheck[],
  pieces: readonly Evidence[],
  mode: Mode,
): NextCheck | null {
  if (answer !== 'cannotTell' || mode !== 'heating' || !reversingValveInDoubt(pieces)) return null;
  return checks.find(({ check }) => check === 'touchReversing') ?? null;
}

/** These tell whether the compressor or the reversing valve lets gas back, the quickest first. */
const OF_THE_PUMP: readonly CheckKey[] = ['touchReversing', 'amperes', 'pumpDown'];

/** Where a shortage is contradicted, what else takes subcooling is looked at first. */
function pumpFirst(open: LeftOpen | null, checks: readonly NextCheck[]): NextCheck | null {
  if (open?.code !== 'UNLIKE_SHORTAGE') return null;
  const found = OF_THE_PUMP.map((key) => checks.find(({ check }) => check === key));
  return found.find((check) => check !== undefined) ?? null;
}

/** Evidence weaker than this (ln of the ratio) is not shown. */
const SHOWN_WEIGHT = 0.25;

/**
 * Splits the evidence into for and against a suspect: how well it explains each piece, against its
 * rivals as they stood before any reading.
 */
function sides(key: SuspectKey, prior: BySuspect, pieces: readonly Evidence[]) {
  const weighed = pieces
    .filter((piece) => piece.item.kind !== 'plausible')
    .map((piece): Weighed => {
      let others = 0;
      for (const k of SUSPECT_KEYS) {
        if (k !== key) others += (prior[k] / (1 - prior[key])) * piece.likelihood[k];
      }
      return {
        item: piece.item,
        weight: Math.log(Math.max(piece.likelihood[key], 1e-300) / Math.max(others, 1e-300)),
      };
    });
  return {
    for: weighed.filter((w) => w.weight > SHOWN_WEIGHT).sort((a, b) => b.weight - a.weight),
    against: weighed.filter((w) => w.weight < -SHOWN_WEIGHT).sort((a, b) => a.weight - b.weight),
  };
}
