import type { Mode } from '../circuit/types.ts';
import { CHECK_KEYS, checkRow, outcomeGiven, type CheckKey } from './checks-table.ts';
import { standingPower, type Evidence } from './evidence.ts';
import {
  bySuspect,
  normalised,
  SUSPECT_KEYS,
  type BySuspect,
  type SuspectKey,
} from './suspects.ts';
import type { JudgementInput } from './types.ts';

/** A check and what it is worth: expected information in bits, and per minute of work. */
export interface NextCheck {
  readonly check: CheckKey;
  readonly bits: number;
  readonly bitsPerMinute: number;
  /** Asked although it is expected to tell little more: before costly work, another look comes first. */
  readonly confirms?: true;
}

/** A suspect as far as the choice of a check looks at it. */
interface Ranked {
  readonly key: SuspectKey;
  readonly probability: number;
  readonly nextCheck: NextCheck | null;
}

/** From this probability on the next check is the one that confirms the cause. */
export const CONFIRM = 0.7;

/** A cause that a check has shown and that is this probable is found: what follows is the repair. */
const FOUND = 0.9;

/** Whether the first suspect is shown beyond another look, by a check that was made or by clamps that tell the same. */
export function isFound(
  first: Ranked | undefined,
  belief: BySuspect,
  pieces: readonly Evidence[],
  input: JudgementInput,
): boolean {
  if (first === undefined) return false;
  const { mode } = input.config;
  const held = kinOf(first.key, mode).reduce((sum, key) => sum + belief[key], 0);
  if (held < FOUND) return false;
  if (first.key === 'liquidLineRestriction' && dropSeen(pieces)) return true;
  return shownByPerson(first.key, input);
}

/** Whether a check that somebody made shows the cause by itself. */
function shownByPerson(key: SuspectKey, { outcomes, config }: JudgementInput): boolean {
  return outcomes.some(({ check, outcome }) => {
    const row = checkRow(check);
    const i = Object.keys(row.outcomes).indexOf(outcome);
    return outcomeGiven(row, i, key, config.mode) - (row.otherwise[i] ?? 0) >= SHOWS;
  });
}

/** What to put right opens the circuit: refrigerant is recovered, a part cut out. */
const COSTLY: ReadonlySet<SuspectKey> = new Set<SuspectKey>([
  'lowCharge',
  'overcharge',
  'liquidLineRestriction',
  'nonCondensables',
  'compressorValveLeak',
  'reversingValveLeak',
  'valveStarved',
  'valveOpen',
  'wrongRefrigerant',
]);

/**
 * The quickest check that shows the cause by itself, asked before costly work although the readings leave
 * little to be told; null where the work is not costly, where somebody's check has shown it already, or where
 * there is no such check.
 */
export function confirmation(
  first: Ranked | undefined,
  belief: BySuspect,
  input: JudgementInput,
): NextCheck | null {
  if (first === undefined || !COSTLY.has(first.key) || shownByPerson(first.key, input)) return null;
  const { mode } = input.config;
  const made = new Set<CheckKey>(input.outcomes.map((o) => o.check));
  const unit = { ...input.config, heatPump: input.heatPump };
  const [quickest] = CHECK_KEYS.filter(
    (check) =>
      !made.has(check) && (checkRow(check).fits?.(unit) ?? true) && shows(check, first.key, mode),
  ).sort((a, b) => checkRow(a).minutes - checkRow(b).minutes);
  if (quickest === undefined) return null;
  const bits = information(belief, quickest, mode);
  return { check: quickest, ...worth(quickest, bits), confirms: true };
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
export function checksDone(
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

/** What a check is worth: its bits, and bits per minute of work. */
export function worth(check: CheckKey, bits: number) {
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
export function nextOf(
  suspects: readonly Ranked[],
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
  first: Ranked,
  second: Ranked,
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
  return bestOf(short) ?? beforeRecovery(confirming, first, belief, possible, mode);
}

/** Before too much refrigerant is recovered the standing pressure has spoken about gas and another refrigerant. */
function beforeRecovery(
  confirming: NextCheck,
  first: Ranked,
  belief: BySuspect,
  possible: readonly CheckKey[],
  mode: Mode,
): NextCheck {
  const recovers = first.key === 'overcharge' && confirming.check === 'recoverWeigh';
  if (!recovers || !possible.includes('standing')) return confirming;
  return { check: 'standing', ...worth('standing', information(belief, 'standing', mode)) };
}

/** The check with most information per minute; null where none tells anything to speak of. */
function bestOf(checks: readonly NextCheck[]): NextCheck | null {
  const [best] = checks
    .filter((c) => c.bits > 0.02)
    .sort((a, b) => b.bitsPerMinute - a.bitsPerMinute);
  return best ?? null;
}

/** Ice is what little air makes of the evaporating coil: one cause to whoever looks for it. */
export function kinOf(key: SuspectKey, mode: Mode): readonly SuspectKey[] {
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
export function separating(
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
