import type { Result } from '../result.ts';
import { airFigures, type AirFigures } from '../diagnosis/air-side.ts';
import { refrigerantCapacity, type RefrigerantCapacity } from '../circuit/refrigerant-side.ts';
import { refrigerant } from '../refrigerant/refrigerants.ts';
import { chargeQuantity } from '../diagnosis/charge-told.ts';
import { conditionsOf, freshChannel, type Conditions } from '../diagnosis/conditions.ts';
import { conclude, weigh, type Diagnosis, type UnitEvidence } from '../diagnosis/diagnose.ts';
import { chargeRefusals, readingRefusals } from '../diagnosis/preconditions.ts';
import { hazardsOf, type Hazard } from '../diagnosis/hazards.ts';
import { targetsFor } from '../diagnosis/targets.ts';
import type {
  JudgementInput,
  ReferenceSnapshot,
  Refusal,
  Target,
  VerdictRow,
} from '../diagnosis/types.ts';
import { judgeReading } from '../diagnosis/verdicts.ts';
import {
  virtualCharge,
  type VirtualCharge,
  type VirtualChargeRefusal,
} from '../diagnosis/virtual-charge.ts';
import { diagnosisBeside, pairOf, type ReadUnit } from './beside.ts';

/** The judgement of one snapshot of a running unit. */
export interface Judgement {
  readonly conditions: Conditions;
  /** What stands in the way, and how far; each says what to do (words.ts). */
  readonly refusals: readonly Refusal[];
  readonly targets: readonly Target[];
  readonly verdicts: readonly VerdictRow[];
  /** What forbids leaving the unit running as it is, whatever the cause. */
  readonly hazards: readonly Hazard[];
  readonly air: AirFigures;
  /** Flow and capacity by the compressor's displacement; null where it is not given. */
  readonly refrigerantSide: RefrigerantCapacity | null;
  /** What the readings say of the charge; never a weight. */
  readonly charge: ChargeAdvice;
  readonly virtualCharge: Result<VirtualCharge, VirtualChargeRefusal> | null;
  readonly diagnosis: Diagnosis;
}

/** What may be said of the charge. */
export type ChargeAdvice =
  | { readonly code: 'REFUSED'; readonly because: readonly Refusal[] }
  /** `alone`: nothing else speaks of a fault either. */
  | { readonly code: 'AGREES'; readonly verdict: VerdictRow; readonly alone: boolean }
  | { readonly code: 'UNDECIDED'; readonly verdict: VerdictRow }
  /**
   * Outside the target, but another cause explains it at least as well, superheat is too small to add any, or
   * evaporating too high for a shortage.
   */
  | { readonly code: 'LOOK_FIRST'; readonly verdict: VerdictRow; readonly charge: number }
  /** Outside the target, and the amount is the likeliest cause. */
  | {
      readonly code: 'LIKELY_LOW' | 'LIKELY_HIGH';
      readonly verdict: VerdictRow;
      readonly charge: number;
    };

/** The judgement together with the evidence it rests on: what a comparison of units goes on with. */
export interface JudgedUnit {
  readonly judgement: Judgement;
  readonly evidence: UnitEvidence;
  readonly readable: boolean;
}

/**
 * Judges a running unit: preconditions, targets, verdicts, figures, suspects and the next check.
 * Pure: the same input gives the same judgement.
 */
export function judge(input: JudgementInput): Judgement {
  const { judgement, readable } = judgeUnit(input);
  const like = input.twin === null ? null : likeUnit(input, input.twin);
  if (like === null) return judgement;
  const unit = readUnit(THIS_UNIT, input, judgement, readable);
  const pair = pairOf(unit, like);
  if (pair.unlike !== null) return judgement;
  return concluded(judgement, input, diagnosisBeside(unit, [like], [pair]));
}

/** What the unit is called where its like is named. */
const THIS_UNIT = 'this unit';

/** A like unit, read by itself: that somebody takes it for a sound one does not make it one. */
function likeUnit(input: JudgementInput, { label, config, content }: ReferenceSnapshot): ReadUnit {
  const theirs: JudgementInput = {
    ...input,
    config,
    content,
    runTime: null,
    observations: [],
    outcomes: [],
    motions: [],
    pattern: null,
    stood: null,
    baseline: null,
    twin: null,
  };
  const { judgement, readable } = judgeUnit(theirs);
  return readUnit(label === THIS_UNIT ? 'its like' : label, theirs, judgement, readable);
}

/** A judged unit as its likes are held against it. */
export function readUnit(
  label: string,
  input: JudgementInput,
  { conditions, targets, verdicts }: Judgement,
  readable: boolean,
): ReadUnit {
  return { label, input, conditions, targets, verdicts, readable };
}

/** A judgement with the diagnosis of more than the unit's own readings, and the charge after it. */
export function concluded(
  judgement: Judgement,
  input: JudgementInput,
  found: Diagnosis,
): Judgement {
  const diagnosis = besideHazards(found, judgement.hazards);
  const charge = chargeAdvice(input, judgement, diagnosis);
  return { ...judgement, diagnosis, charge };
}

/** {@link judge} by the unit's own readings alone, with the evidence. */
export function judgeUnit(input: JudgementInput): JudgedUnit {
  const conditions = conditionsOf(input.content, input.config);
  const forbidden = readingRefusals(input);
  const readable = forbidden.every((refusal) => refusal.blocks !== 'all');
  const { targets, refusals: targetRefusals } = targetsFor(input, conditions);
  const verdicts = readable ? verdictsOf(input, targets) : [];
  const split = verdicts.find((v) => v.quantity === 'airDrop') ?? null;
  const hazards = hazardsOf(input.content, input.config);
  const refusals = onceEach([
    ...forbidden,
    ...(readable ? chargeRefusals(input, conditions, split, hazards) : []),
    ...targetRefusals,
  ]);
  const evidence = weigh(input, conditions, targets, readable);
  const diagnosis = besideHazards(conclude(evidence, input, verdicts), hazards);
  const judgement = {
    conditions,
    refusals,
    targets,
    verdicts,
    hazards,
    air: airFigures(input, conditions, split),
    refrigerantSide: readable ? refrigerantSideOf(input) : null,
    charge: chargeAdvice(input, { refusals, verdicts, hazards }, diagnosis),
    virtualCharge: estimateOf(input, refusals, targets),
    diagnosis,
  };
  return { judgement, evidence, readable };
}

/**
 * Every obstacle once, what it blocks most first: the weather may be missing for the method and for its
 * target as well.
 */
function onceEach(refusals: readonly Refusal[]): Refusal[] {
  const seen = new Set<string>();
  return refusals.filter((refusal) => {
    const same = JSON.stringify({ ...refusal, blocks: null });
    if (seen.has(same)) return false;
    seen.add(same);
    return true;
  });
}

/** Where something may hurt the machine, "nothing wrong" is not the answer beside it. */
function besideHazards(diagnosis: Diagnosis, hazards: readonly Hazard[]): Diagnosis {
  if (hazards.length === 0 || diagnosis.answer !== 'nothingWrong') return diagnosis;
  return { ...diagnosis, answer: 'cannotTell' };
}

function verdictsOf(input: JudgementInput, targets: readonly Target[]): VerdictRow[] {
  const rows: VerdictRow[] = [];
  for (const target of targets) {
    const reading = input.content.figures[target.quantity];
    if (reading !== undefined) rows.push(judgeReading(reading, target));
  }
  return rows;
}

function refrigerantSideOf(input: JudgementInput): RefrigerantCapacity | null {
  const displacement = input.nameplate.displacement_m3_s;
  const { content, config } = input;
  const suctionPressure = freshChannel(content, 'suctionPressure');
  const suctionLineTemp = freshChannel(content, 'suctionLineTemp');
  const liquidLineTemp = freshChannel(content, 'liquidLineTemp');
  const highPressure =
    freshChannel(content, 'liquidPressure') ?? freshChannel(content, 'dischargePressure');
  if (displacement === null || suctionPressure === null || suctionLineTemp === null) return null;
  if (liquidLineTemp === null || highPressure === null) return null;
  const side = { displacement, suctionPressure, suctionLineTemp, highPressure, liquidLineTemp };
  return refrigerantCapacity(side, refrigerant(config.refrigerant));
}

function chargeAdvice(
  input: JudgementInput,
  { refusals, verdicts, hazards }: Pick<Judgement, 'refusals' | 'verdicts' | 'hazards'>,
  diagnosis: Diagnosis,
): ChargeAdvice {
  const quantity = chargeQuantity(input);
  const reach: Refusal['blocks'][] = ['all', 'charge'];
  if (quantity === 'superheat') reach.push('superheatTarget');
  const because = refusals.filter((r) => reach.includes(r.blocks));
  const verdict = verdicts.find((v) => v.quantity === quantity);
  if (because.length > 0 || verdict === undefined) return { code: 'REFUSED', because };
  if (verdict.verdict === 'within') {
    return { code: 'AGREES', verdict, alone: diagnosis.answer === 'nothingWrong' };
  }
  if (verdict.verdict === 'undecided') return { code: 'UNDECIDED', verdict };
  // Little refrigerant raises superheat behind an orifice and takes subcooling from a valve's line.
  const low = (quantity === 'superheat') === (verdict.verdict === 'above');
  const charge =
    diagnosis.suspects.find((s) => s.key === (low ? 'lowCharge' : 'overcharge'))?.probability ?? 0;
  const rival = diagnosis.suspects.find((s) => s.key !== (low ? 'lowCharge' : 'overcharge'));
  // A shortage never takes superheat: where that is too small as well, nobody adds refrigerant before looking.
  const floods =
    low &&
    (hazards.some(({ code }) => code === 'LIQUID_BACK') ||
      verdicts.some((v) => v.quantity === 'superheat' && v.verdict === 'below'));
  const contradicted = diagnosis.open?.code === 'UNLIKE_SHORTAGE';
  if (floods || contradicted || charge <= (rival?.probability ?? 0) || charge < LIKELY) {
    return { code: 'LOOK_FIRST', verdict, charge };
  }
  return { code: low ? 'LIKELY_LOW' : 'LIKELY_HIGH', verdict, charge };
}

/** The amount of charge is named as the likely cause from this probability on. */
const LIKELY = 0.5;

/** The virtual charge estimate, where the readings stand, in cooling, with enough air. */
function estimateOf(
  input: JudgementInput,
  refusals: readonly Refusal[],
  targets: readonly Target[],
): Judgement['virtualCharge'] {
  const { superheat, subcooling } = input.content.figures;
  const low = new Set<Refusal['code']>(['AIRFLOW_LOW', 'AIRFLOW_MEASURED_LOW']);
  if (refusals.some((r) => r.blocks === 'all' || low.has(r.code))) return null;
  if (input.config.mode === 'heating') return null;
  if (superheat === undefined || subcooling === undefined) return null;
  const target = targets.find((t) => t.quantity === 'superheat');
  // A valve holds its superheat: where its maker names none, the middle of the common 8 to 12 °F.
  const rated = target?.value ?? (input.config.metering === 'fixed' ? null : VALVE_SUPERHEAT_K);
  return virtualCharge(superheat, subcooling, {
    superheat: rated,
    subcooling: input.nameplate.targetSubcooling_K,
  });
}

const VALVE_SUPERHEAT_K = 10 / 1.8;
