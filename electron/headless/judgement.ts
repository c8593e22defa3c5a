import { meanAtRest } from '../../core/steadiness/rest.ts';
import { runPattern, runTimeAt } from '../../core/checks/run-pattern.ts';
import { changedAfter, openAfterChange } from '../../core/checks/changed-after.ts';
import { concluded, judge, type Judgement } from '../../core/checks/running.ts';
import { figureRow, FIGURE_KEYS } from '../../core/circuit/figures.ts';
import { answerText } from '../../core/diagnosis/answer-text.ts';
import { cautionsFor, chargeCautions } from '../../core/diagnosis/caution-text.ts';
import { checkRow } from '../../core/diagnosis/checks-table.ts';
import type { Diagnosis, Suspect } from '../../core/diagnosis/diagnose.ts';
import type { NextCheck } from '../../core/diagnosis/next-check.ts';
import { hazardText } from '../../core/diagnosis/hazard-text.ts';
import { foldedText, weighedText, weighty } from '../../core/diagnosis/evidence-text.ts';
import type {
  JudgementInput,
  ReferenceSnapshot,
  StoodStill,
  Target,
  Uncertain,
} from '../../core/diagnosis/types.ts';
import {
  chargeText,
  refusalText,
  SOURCE_LABEL,
  SUSPECT_LABEL,
  verdictText,
} from '../../core/diagnosis/words.ts';
import type { EngineConfig, SnapshotContent, StateSpan } from '../../core/engine-types.ts';
import type { Mode } from '../../core/circuit/types.ts';
import type { QuantityMotion, SteadinessState } from '../../core/steadiness/types.ts';
import { fahrenheitFromDifference, fahrenheitFromKelvin } from '../../core/units/temperature.ts';
import { kelvin } from '../../core/units/brands.ts';
import { afterJudged } from './after-judged.ts';
import type { JudgementOptions } from './judgement-options.ts';

/** A logged session after the engine has seen all of it. */
export interface SeenSession {
  readonly config: EngineConfig;
  readonly targets: { readonly subcooling: number | null; readonly superheat: number | null };
  readonly spans: readonly StateSpan[];
  /** The reading at the end of the stream; null where there is nothing to read. */
  readonly last: SnapshotContent | null;
  readonly motions: readonly QuantityMotion[];
  /** What it told while it stood still before it ran; null where that is not seen. */
  readonly stood: StoodStill | null;
}

/** Readings of other sessions that those of a session are held against. */
export interface References {
  /** The unit's own healthy visit. */
  readonly baseline: ReferenceSnapshot | null;
  /** A like unit under the same conditions, sound or not. */
  readonly twin: ReferenceSnapshot | null;
}
/** States whose spans are read. */
const AT_REST: ReadonlySet<SteadinessState> = new Set<SteadinessState>(['settled', 'hunting']);
const NO_REFERENCES: References = { baseline: null, twin: null };

/** The last span that was read: settled, or hunting about a still mean. */
export function lastRead(spans: readonly StateSpan[]): StateSpan | undefined {
  return spans.filter(({ state, snapshot }) => AT_REST.has(state) && snapshot !== null).at(-1);
}

/**
 * What is judged of a session: the swing about a still mean it ends in, else the last span that was
 * read, else (refused, with the reason) its end. Null where there is nothing to read.
 */
export function judgementInput(
  session: SeenSession,
  options: JudgementOptions,
  references: References = NO_REFERENCES,
): JudgementInput | null {
  const { spans, last } = session;
  const read = lastRead(spans);
  const swings = last?.state === 'hunting' && (read === undefined || meanAtRest(last));
  const chosen = swings ? spans.filter((s) => s.state === 'hunting').at(-1) : read;
  const content = (swings ? last : read?.snapshot) ?? last;
  if (content === null) return null;
  return {
    config: session.config,
    content,
    runTime: chosen === undefined ? null : runTimeAt(spans, chosen),
    nameplate: {
      targetSubcooling_K: session.targets.subcooling,
      targetSuperheat_K: session.targets.superheat,
      capacity_W: null,
      displacement_m3_s: options.displacement,
    },
    standard: options.standard,
    superheatChart: options.chart,
    airflow: options.airflow,
    observations: options.observations,
    outcomes: options.outcomes,
    motions: chosen === undefined ? session.motions : [],
    pattern: runPattern(spans),
    stood: session.stood,
    heatPump: options.heatPump || session.config.mode === 'heating',
    ...references,
    maker: options.maker,
  };
}

/** What one settled span says in short: `snapshots` carry it, each its own. */
export function spanJson(
  session: SeenSession,
  span: StateSpan,
  options: JudgementOptions,
  references: References,
): Record<string, unknown> {
  const { spans } = session;
  const until = spans.slice(0, spans.indexOf(span) + 1);
  const input = judgementInput({ ...session, spans: until, last: null }, options, references);
  if (input === null) return {};
  const { refusals, verdicts, charge, diagnosis } = judge(input);
  return {
    refusals: refusals.map((r) => r.code),
    verdicts: verdicts.map(({ quantity, verdict }) => ({ quantity, verdict })),
    charge: charge.code,
    answer: diagnosis.answer,
    suspects: diagnosis.suspects.slice(0, 3).map(({ key, probability }) => ({ key, probability })),
  };
}

/** The keys `analyze` adds: targets, verdicts, suspects, figures, and what stands in the way. */
export function judgementJson(
  session: SeenSession,
  options: JudgementOptions,
  references: References,
): Record<string, unknown> {
  const input = judgementInput(session, options, references);
  if (input === null) {
    return { refusals: [], targets: [], verdicts: [], suspects: [], figures: {}, charge: null };
  }
  const judgedTo = input.content.window.to;
  const judged = judge(input);
  const judgement = changedAfter(session.spans, judgedTo)
    ? concluded(judged, input, openAfterChange(judged.diagnosis))
    : judged;
  const after = afterJudged(session.spans, judgedTo, session.config.mode);
  return {
    judged_s: input.content.window,
    afterJudged: after,
    refusals: judgement.refusals.map((r) => ({
      code: r.code,
      blocks: r.blocks,
      text: refusalText(r, 'us'),
    })),
    targets: judgement.targets.map(targetJson),
    verdicts: judgement.verdicts.map((row) => ({
      quantity: row.quantity,
      verdict: row.verdict,
      probability: row.probability,
      degF: fahrenheitFromDifference(row.reading.value),
      uncertainty_degF: fahrenheitFromDifference(row.u),
      text: verdictText(row, 'us'),
    })),
    charge: {
      code: judgement.charge.code,
      text: chargeText(judgement.charge, 'us'),
      cautions: chargeCautions(judgement.charge),
    },
    hazards: judgement.hazards.map((h) => ({
      code: h.code,
      probability: h.probability,
      text: hazardText(h, 'us'),
    })),
    ...diagnosisJson(judgement.diagnosis, judgement, input.config.mode, after),
    figures: figuresJson(input, judgement),
  };
}

function targetJson(target: Target): Record<string, unknown> {
  return {
    quantity: target.quantity,
    degF: target.value === null ? null : fahrenheitFromDifference(target.value),
    low_degF: fahrenheitFromDifference(target.low),
    high_degF: fahrenheitFromDifference(target.high),
    uncertainty_degF: fahrenheitFromDifference(target.u),
    source: SOURCE_LABEL[target.source.code],
    fromMemory: target.fromMemory,
  };
}

/**
 * Answer, suspects and next check of a diagnosis.
 *
 * @param beside what stands in its way, and what may harm the unit
 * @param after what came after the readings it is of; null where nothing did
 */
export function diagnosisJson(
  diagnosis: Diagnosis,
  beside: Pick<Judgement, 'refusals' | 'hazards'>,
  mode: Mode,
  after: string | null,
): Record<string, unknown> {
  const { title, line } = answerText(diagnosis, beside.refusals, mode, beside.hazards);
  return {
    answer: diagnosis.answer,
    answerText: `${title}. ${line}${after === null ? '' : ` ${after}`}`,
    suspects: diagnosis.suspects.map((s) => suspectJson(s, mode)),
    // Where nothing is wrong, no check is pressed upon anybody.
    nextCheck: diagnosis.answer === 'nothingWrong' ? null : checkJson(diagnosis.nextCheck),
  };
}

function suspectJson(suspect: Suspect, mode: Mode): Record<string, unknown> {
  const evidence = weighty(suspect);
  return {
    key: suspect.key,
    label: SUSPECT_LABEL[suspect.key],
    probability: suspect.probability,
    evidence: {
      for: evidence.for.map((w) => weighedText(w, mode, 'us')),
      against: evidence.against.map((w) => weighedText(w, mode, 'us')),
      folded: foldedText(evidence.folded),
    },
    nextCheck: checkJson(suspect.nextCheck),
  };
}

function checkJson(next: NextCheck | null): Record<string, unknown> | null {
  if (next === null) return null;
  const row = checkRow(next.check);
  return {
    key: next.check,
    label: row.label,
    instruction: row.instruction,
    minutes: row.minutes,
    bits: next.bits,
    confirms: next.confirms === true,
    outcomes: row.outcomes,
    cautions: cautionsFor(row.cautions),
  };
}

/** Every figure with its uncertainty, its unit in the key, and one line that explains it. */
function figuresJson(input: JudgementInput, judgement: Judgement): Record<string, unknown> {
  const figures: Record<string, unknown> = {};
  for (const key of FIGURE_KEYS) {
    const reading = input.content.figures[key];
    if (reading === undefined) continue;
    const { kind, explain } = figureRow(key);
    if (kind === 'ratio') {
      figures[key] = { value: reading.value, uncertainty: reading.u, explain };
      continue;
    }
    const degF =
      kind === 'temperature'
        ? fahrenheitFromKelvin(kelvin(reading.value))
        : fahrenheitFromDifference(reading.value);
    const uncertainty_degF = fahrenheitFromDifference(reading.u);
    figures[key] = { degF, uncertainty_degF, marks: reading.marks, explain };
  }
  return { ...figures, ...airJson(judgement) };
}

function airJson(judgement: Judgement): Record<string, unknown> {
  const { returnWetBulb, splitOverTarget, capacity } = judgement.air;
  const json: Record<string, unknown> = {};
  if (returnWetBulb !== null) {
    json['returnWetBulb'] = {
      degF: fahrenheitFromKelvin(kelvin(returnWetBulb.value)),
      uncertainty_degF: fahrenheitFromDifference(returnWetBulb.u),
      explain: 'Wet bulb of the return air, measured or from its humidity at the site’s pressure.',
    };
  }
  if (splitOverTarget !== null) {
    json['airDropOverTarget'] = {
      degF: fahrenheitFromDifference(splitOverTarget.value),
      uncertainty_degF: fahrenheitFromDifference(splitOverTarget.u),
      explain: 'Air temperature drop minus its target: above, air is short; below, capacity is.',
    };
  }
  if (capacity !== null) {
    json['sensibleCapacity'] = watts(
      capacity.sensible,
      'Heat that cools the air without drying it.',
    );
    if (capacity.total !== null) {
      json['totalCapacity'] = watts(capacity.total, 'Heat taken from the air, drying included.');
    }
  }
  if (judgement.refrigerantSide !== null) {
    const { massFlow, capacity: taken } = judgement.refrigerantSide;
    json['refrigerantFlow'] = {
      kg_s: massFlow.value,
      uncertainty_kg_s: massFlow.u,
      explain: 'What a sound compressor of this displacement moves at these pressures.',
    };
    json['refrigerantCapacity'] = watts(
      taken,
      'Heat taken up by that flow between liquid and suction line; the pipe outdoors included.',
    );
  }
  if (judgement.virtualCharge?.ok === true) {
    const { deviation } = judgement.virtualCharge.value;
    json['virtualCharge'] = {
      percent: 100 * deviation.value,
      uncertainty_percent: 100 * deviation.u,
      explain:
        'Estimate of the charge against rated from superheat and subcooling (Li & Braun 2009, untuned): a hint, never a weight to add. Not for units with an accumulator or at low compressor speed.',
    };
  }
  return json;
}

function watts(capacity: Uncertain, explain: string): Record<string, unknown> {
  return { W: capacity.value, uncertainty_W: capacity.u, explain };
}
