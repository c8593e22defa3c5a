import { CHECK_KEYS, checkRow } from '../../core/diagnosis/checks-table.ts';
import { liveContent } from '../../core/diagnosis/live-content.ts';
import {
  OBSERVATION_KEYS,
  type Airflow,
  type CheckOutcome,
  type JudgementInput,
  type ObservationKey,
  type ReferenceSnapshot,
  type RunPattern,
  type StoodStill,
} from '../../core/diagnosis/types.ts';
import type { EngineConfig, EngineState, SnapshotContent } from '../../core/engine-types.ts';
import { unitStands } from '../../core/steadiness/rest.ts';
import type { Answers } from '../../core/record/answers.ts';
import type { Finding, Unit } from '../../core/record/job.ts';
import type { RunSoFar, SnapshotRecord } from '../../core/record/snapshot.ts';
import { isTyped } from '../store/typed.ts';
import type { Reference } from './references.ts';

/** What is judged: the present readings of a unit or a snapshot from the record. */
export interface Judged {
  readonly config: EngineConfig;
  readonly state: EngineState | null;
  readonly snapshot: Pick<SnapshotRecord, 'id' | 'label' | 'content' | 'run'> | null;
  /** Id of the session the readings are of. */
  readonly session: string | null;
  /** Starts and stops of the session until now; a snapshot has its own. */
  readonly pattern: RunPattern | null;
  /** What it told while it stood still in the session; a snapshot has its own. */
  readonly stood: StoodStill | null;
}

/** Findings of this unit, or of the site, that speak of a cause. */
export function observationsOf(findings: readonly Finding[], unit: string): ObservationKey[] {
  const kinds = new Set<string>(
    findings.filter((f) => f.unit === null || f.unit === unit).map((f) => f.kind),
  );
  return OBSERVATION_KEYS.filter((key) => kinds.has(key));
}

/** All the judge is given; null where there is nothing to read yet. */
export function inputFor(
  judged: Judged,
  asked: Answers,
  unit: Unit | null,
  findings: readonly Finding[],
  references: readonly Reference[],
): JudgementInput | null {
  const { config, state, snapshot } = judged;
  const read = snapshot?.content ?? (state === null ? null : liveContent(state, config));
  if (read === null) return null;
  const stood = asked.stoodStill !== null && asked.stoodStill === judged.session;
  const content = stood && isTyped(config) ? attested(read) : read;
  const steadiness = snapshot === null ? state?.steadiness : undefined;
  const observations = observationsOf(findings, unit?.key ?? '');
  const airflow = airflowOf(asked);
  return {
    config,
    content,
    ...runOf(judged),
    nameplate: nameplateOf(unit),
    standard: asked.standard,
    superheatChart: asked.chart,
    airflow,
    observations: asked.chargeWeighed ? [...observations, 'equalChargeWeighed'] : observations,
    outcomes: knownOutcomes(asked.outcomes),
    motions: steadiness?.motions ?? [],
    heatPump: asked.heatPump || config.mode === 'heating',
    baseline: referenceOf(references.find((r) => r.id === asked.baseline)),
    twin: referenceOf(references.find((r) => r.id === asked.twin)),
    maker: unit?.mode === config.mode ? unit.maker : {},
  };
}

/** How the unit had run when the readings were taken. */
function runOf({ state, snapshot, pattern, stood }: Judged): Required<RunSoFar> {
  if (snapshot !== null) return { runTime: null, pattern: null, stood: null, ...snapshot.run };
  const { seenStart, runTime } = state?.steadiness ?? { seenStart: false, runTime: null };
  return { runTime: seenStart ? runTime : null, pattern, stood };
}

const UNKNOWN: JudgementInput['nameplate'] = {
  targetSubcooling_K: null,
  targetSuperheat_K: null,
  capacity_W: null,
  displacement_m3_s: null,
};

function nameplateOf(unit: Unit | null): JudgementInput['nameplate'] {
  if (unit === null) return UNKNOWN;
  const { targetSubcooling_K, targetSuperheat_K, capacity_W, displacement_m3_s } = unit.nameplate;
  return { targetSubcooling_K, targetSuperheat_K, capacity_W, displacement_m3_s };
}

/** Typed readings of which a person says that they stood still and belong together; of a unit that runs. */
function attested(content: SnapshotContent): SnapshotContent {
  if (unitStands(content)) return content;
  return {
    ...content,
    state: 'settled',
    channels: content.channels.map((c) => ({ ...c, marks: c.marks.filter((m) => m !== 'stale') })),
  };
}

/** The checks this program knows: another version may have kept others. */
export function knownOutcomes(outcomes: Answers['outcomes']): CheckOutcome[] {
  return outcomes.flatMap(({ check, outcome }) => {
    const key = CHECK_KEYS.find((k) => k === check);
    return key !== undefined && outcome in checkRow(key).outcomes ? [{ check: key, outcome }] : [];
  });
}

/** Accuracy taken for an airflow typed in, k = 2: that of a careful traverse or flow plate. */
const FLOW_U = 0.07;

function airflowOf(asked: Answers): Airflow {
  if (asked.airflow !== 'measured') return { kind: asked.airflow };
  const { flow_m3_s: flow } = asked;
  if (flow === null) return { kind: 'unknown' };
  return { kind: 'measured', flow: { value: flow, u: FLOW_U * flow } };
}

function referenceOf(reference: Reference | undefined): ReferenceSnapshot | null {
  if (reference === undefined) return null;
  return { label: reference.text, config: reference.config, content: reference.content };
}
