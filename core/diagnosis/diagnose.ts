import type { Mode } from '../circuit/types.ts';
import type { Conditions } from './conditions.ts';
import { CHECK_KEYS, checkRow, outcomeGiven, type CheckKey } from './checks-table.ts';
import {
  freezingEvidence,
  impossibleEvidence,
  otherEvidence,
  residualLikelihood,
  residualsOf,
  singleLikelihood,
  standingPower,
  type Evidence,
  type EvidenceItem,
} from './evidence.ts';
import { expectationsFor } from './expectations.ts';
import { featuresOf } from './features.ts';
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
  fitsAFault,
  oneStandsOut,
  SURE_WITHIN,
} from './sound-bound.ts';
import type { FeatureKey, JudgementInput, Target, VerdictRow } from './types.ts';

/** A piece of evidence as it bears on one suspect: the weight is ln of the likelihood ratio. */
export interface Weighed {
  readonly item: EvidenceItem;
  readonly weight: number;
}

/** A check and what it is worth: expected information in bits, and per minute of work. */
export interface NextCheck {
  readonly check: CheckKey;
  readonly bits: number;
  readonly bitsPerMinute: number;
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

/** What the evidence comes to. 'cannotTell' and 'nothingWrong' are answers. */
export interface Diagnosis {
  readonly answer: 'suspect' | 'nothingWrong' | 'cannotTell';
  /** All suspects that can exist in this unit, most probable first. */
  readonly suspects: readonly Suspect[];
  readonly nextCheck: NextCheck | null;
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
    const answer = shownOf(answerOf(suspects, nothing, sure), suspects, pieces, input);
    const next =
      touchFirst(answer, checks, pieces, mode) ??
      nextOf(suspects, posterior, possible, mode) ??
      checks[0] ??
      null;
    return {
      answer,
      suspects,
      nextCheck: isFound(suspects[0], posterior, pieces, input) ? null : next,
      checks,
    };
  }
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
    !fitsAFault(prior, posterior)
  );
}

/** A cause that a check has shown and that is this probable is found: what follows is the repair. */
const FOUND = 0.9;

/** Whether a check that was made, or clamps that tell the same, have shown the first suspect beyond another look. */
function isFound(
  first: Suspect | undefined,
  belief: BySuspect,
  pieces: readonly Evidence[],
  { outcomes, config }: JudgementInput,
): boolean {
  if (first === undefined) return false;
  const held = kinOf(first.key, config.mode).reduce((sum, key) => sum + belief[key], 0);
  if (held < FOUND) return false;
  if (first.key === 'liquidLineRestriction' && dropSeen(pieces)) return true;
  return outcomes.some(({ check, outcome }) => {
    const row = checkRow(check);
    const i = Object.keys(row.outcomes).indexOf(outcome);
    return outcomeGiven(row, i, first.key, config.mode) - (row.otherwise[i] ?? 0) >= SHOWS;
  });
}

/** A drop across the drier that the check would find, K: 3 °F. */
const DROP_K = 3 / 1.8;
/** From this probability on the standing pressure before the start has told what the check would. */
const STOOD_TOLD = 0.9;

/** Whether two clamps on the drier show what the check of it would. */
function dropSeen(pieces: readonly Evidence[]): boolean {
  return pieces.some(
    ({ item }) =>
      item.kind === 'residual' && item.feature === 'drierDrop' && item.measured > DROP_K,
  );
}

/** The checks a person made, and those whose outcome the readings themselves have told. */
function checksDone(
  { outcomes, stood }: JudgementInput,
  pieces: readonly Evidence[],
): ReadonlySet<CheckKey> {
  const done = new Set<CheckKey>(outcomes.map((o) => o.check));
  if (dropSeen(pieces)) done.add('drierDrop');
  if (stood !== null) {
    const { below, agrees, above } = stood.probability;
    if (Math.max(below, above, standingPower(stood) * agrees) >= STOOD_TOLD) done.add('standing');
  }
  return done;
}

/** Without the figures a cause is named from this probability on. */
const UNREAD_FLOOR = 0.5;
/** ... and from this on the next check is the one that confirms it. */
const CONFIRM = 0.7;

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
): Diagnosis['answer'] {
  const [top] = suspects.filter((s) => s.key !== 'nothingWrong');
  if (top === undefined || nothing * ANSWER_MARGIN >= top.probability) {
    const leads = suspects[0]?.key === 'nothingWrong' && suspects[0].probability >= SOUND_FLOOR;
    return leads && sure ? 'nothingWrong' : 'cannotTell';
  }
  return top.key === 'cannotTell' || top.probability < ANSWER_FLOOR ? 'cannotTell' : 'suspect';
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

/** Expected information of a check about which suspect it is, bits. */
export function information(belief: BySuspect, check: CheckKey, mode: Mode): number {
  const row = checkRow(check);
  let bits = entropy(belief);
  Object.keys(row.outcomes).forEach((_, i) => {
    const joint = bySuspect((key) => belief[key] * outcomeGiven(row, i, key, mode));
    const p = SUSPECT_KEYS.reduce((sum, key) => sum + joint[key], 0);
    if (p > 0) bits -= p * entropy(normalised(joint));
  });
  return Math.max(0, bits);
}

function entropy(belief: BySuspect): number {
  return SUSPECT_KEYS.reduce((sum, key) => {
    const p = belief[key];
    return p > 0 ? sum - p * Math.log2(p) : sum;
  }, 0);
}

function worth(check: CheckKey, bits: number) {
  return { bits, bitsPerMinute: bits / checkRow(check).minutes };
}

/** From this probability on the next check is about the first fault and its rival. */
const LEADS = 0.2;
/** A second fault this much less likely than the first is no rival. */
const RIVAL_SHARE = 0.5;
/** Two rivals are parted first where they hold this much together; else all are looked at. */
const PAIR = 0.5;

/**
 * What an experienced person checks next: where one fault stands out among the faults, what
 * confirms it (by what the trade decides it by, where there is such a check); where two do, what parts
 * them; null otherwise (then what tells most per minute about all of them).
 */
function nextOf(
  suspects: readonly Suspect[],
  belief: BySuspect,
  possible: readonly CheckKey[],
  mode: Mode,
): NextCheck | null {
  const faults = suspects.filter((s) => s.key !== 'cannotTell' && s.key !== 'nothingWrong');
  const [first] = faults;
  const second = faults.find((s) => first !== undefined && !kinOf(first.key, mode).includes(s.key));
  if (first === undefined || second === undefined || first.probability < LEADS) return null;
  const deciding = possible.find((check) => checkRow(check).decides === first.key);
  if (deciding !== undefined) {
    return { check: deciding, ...worth(deciding, information(belief, deciding, mode)) };
  }
  if (second.probability < RIVAL_SHARE * first.probability) {
    return quickerThan(first.nextCheck, first, second, belief, possible, mode);
  }
  if (first.probability + second.probability < PAIR) return null;
  const pair = normalised(
    bySuspect((key) => (key === first.key || key === second.key ? belief[key] : 0)),
  );
  return bestOf(
    possible.map((check) => ({ check, ...worth(check, information(pair, check, mode)) })),
  );
}

/** A check that parts the first fault from the next must tell so much to come before a long one, bits. */
const TELLS = 0.2;

/**
 * What confirms the first fault; or, where that takes long, a shorter check that parts it from the next one
 * well: nobody recovers a charge to weigh it before the standing pressure has spoken about foreign gas.
 */
function quickerThan(
  confirming: NextCheck | null,
  first: Suspect,
  second: Suspect,
  belief: BySuspect,
  possible: readonly CheckKey[],
  mode: Mode,
): NextCheck | null {
  if (confirming === null || checkRow(confirming.check).minutes <= LONGEST_MIN) return confirming;
  const pair = normalised(
    bySuspect((key) => (key === first.key || key === second.key ? belief[key] : 0)),
  );
  const short = possible
    .filter((check) => checkRow(check).minutes <= LONGEST_MIN)
    .map((check) => ({ check, ...worth(check, information(pair, check, mode)) }))
    .filter(({ bits }) => bits > TELLS);
  return bestOf(short) ?? confirming;
}

/** The check with most information per minute; null where none tells anything to speak of. */
function bestOf(checks: readonly NextCheck[]): NextCheck | null {
  const [best] = checks
    .filter((c) => c.bits > 0.02)
    .sort((a, b) => b.bitsPerMinute - a.bitsPerMinute);
  return best ?? null;
}

/** Ice is what little air makes of the evaporating coil: one cause to whoever looks for it. */
function kinOf(key: SuspectKey, mode: Mode): readonly SuspectKey[] {
  const air = mode === 'heating' ? 'fouledOutdoorCoil' : 'lowIndoorAir';
  return key === 'icedCoil' || key === air ? ['icedCoil', air] : [key];
}

/** A check shows a cause by itself where its outcome is this much likelier with it, within so long. */
const SHOWS = 0.25;
const LONGEST_MIN = 45;

function shows(check: CheckKey, key: SuspectKey, mode: Mode): boolean {
  const row = checkRow(check);
  const [given, otherwise] = [outcomeGiven(row, 0, key, mode), row.otherwise[0] ?? 0];
  return row.minutes <= LONGEST_MIN && given - otherwise >= SHOWS;
}

/** Instruments are compared first where they are this likely beside the suspect. */
const DOUBTED = 0.25;

/**
 * The check that would tell most per minute about "this suspect or not" were both as likely: what
 * confirms or refutes it, however sure it already is.
 */
function separating(
  key: SuspectKey,
  belief: BySuspect,
  possible: readonly CheckKey[],
  mode: Mode,
): NextCheck | null {
  const kin = kinOf(key, mode);
  const sum = (keys: readonly SuspectKey[], f: (k: SuspectKey) => number): number =>
    keys.reduce((total, k) => total + f(k), 0);
  const mine = sum(kin, (k) => belief[k]);
  if (!(mine > 0 && mine < 1)) return null;
  const even = (k: SuspectKey): number => (0.5 * belief[k]) / (kin.includes(k) ? mine : 1 - mine);
  // That instruments are right says little of a cause where nothing points at them.
  const doubted = kin.includes('sensorFault') || belief.sensorFault >= DOUBTED * mine;
  // A cause this likely is confirmed by what shows itself, where that does not take too long.
  const direct = mine >= CONFIRM ? possible.filter((check) => shows(check, key, mode)) : [];
  let best: NextCheck | null = null;
  for (const check of direct.length > 0 ? direct : possible) {
    if (check === 'sensorCheck' && !doubted) continue;
    const row = checkRow(check);
    let bits = 1;
    Object.keys(row.outcomes).forEach((_, i) => {
      const joint = (k: SuspectKey): number => even(k) * outcomeGiven(row, i, k, mode);
      const all = sum(SUSPECT_KEYS, joint);
      if (all > 0) bits -= all * binaryEntropy(sum(kin, joint) / all);
    });
    const found = { check, ...worth(check, Math.max(0, bits)) };
    if (found.bits > 0.002 && (best === null || found.bitsPerMinute > best.bitsPerMinute))
      best = found;
  }
  return best;
}

function binaryEntropy(p: number): number {
  if (!(p > 0 && p < 1)) return 0;
  return -p * Math.log2(p) - (1 - p) * Math.log2(1 - p);
}
