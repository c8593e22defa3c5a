import { liveContent } from '../../core/diagnosis/live-content.ts';
import {
  OBSERVATION_KEYS,
  type Airflow,
  type CheckOutcome,
  type JudgementInput,
  type ObservationKey,
  type ReferenceSnapshot,
  type RunPattern,
  type StandardKey,
  type SuperheatChart,
} from '../../core/diagnosis/types.ts';
import type { EngineConfig, EngineState, SnapshotContent } from '../../core/engine-types.ts';
import type { Finding, Unit } from '../../core/record/job.ts';
import type { RunSoFar, SnapshotRecord } from '../../core/record/snapshot.ts';
import type { Reference } from './references.ts';

/** What a person tells the judge beside the readings. */
export interface Asked {
  readonly standard: StandardKey;
  readonly chart: SuperheatChart;
  readonly airflow: 'unknown' | 'attested' | 'measured';
  /** Measured airflow, m3/s; null while it is being typed. */
  readonly flow: number | null;
  readonly heatPump: boolean;
  /** Typed readings: the person watched the gauges and says that they stood still. */
  readonly stoodStill: boolean;
  readonly chargeWeighed: boolean;
  readonly outcomes: readonly CheckOutcome[];
  /** Id of the reference that shows this unit when it was healthy. */
  readonly baseline: string | null;
  /** Id of the reference that shows a healthy like unit under the same conditions. */
  readonly twin: string | null;
}

/** Before a person has told anything. */
export const NOTHING_YET: Asked = {
  standard: 'ra32Installer',
  chart: 'chargingChart',
  airflow: 'unknown',
  flow: null,
  heatPump: false,
  stoodStill: false,
  chargeWeighed: false,
  outcomes: [],
  baseline: null,
  twin: null,
};

/** What is judged: the present readings of a unit or a snapshot from the record. */
export interface Judged {
  readonly config: EngineConfig;
  readonly state: EngineState | null;
  readonly snapshot: Pick<SnapshotRecord, 'id' | 'label' | 'content' | 'run'> | null;
  /** Starts and stops of the session until now; a snapshot has its own. */
  readonly pattern: RunPattern | null;
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
  asked: Asked,
  unit: Unit | null,
  findings: readonly Finding[],
  references: readonly Reference[],
): JudgementInput | null {
  const { config, state, snapshot } = judged;
  const read = snapshot?.content ?? (state === null ? null : liveContent(state, config));
  if (read === null) return null;
  const content = asked.stoodStill && isTyped(config) ? attested(read) : read;
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
    outcomes: asked.outcomes,
    motions: steadiness?.motions ?? [],
    heatPump: asked.heatPump || config.mode === 'heating',
    baseline: referenceOf(references.find((r) => r.id === asked.baseline)),
    twin: referenceOf(references.find((r) => r.id === asked.twin)),
    maker: unit?.mode === config.mode ? unit.maker : {},
  };
}

/** How the unit had run when the readings were taken. */
function runOf({ state, snapshot, pattern }: Judged): RunSoFar {
  if (snapshot !== null) return snapshot.run ?? { runTime: null, pattern: null };
  const { seenStart, runTime } = state?.steadiness ?? { seenStart: false, runTime: null };
  return { runTime: seenStart ? runTime : null, pattern };
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

/** Whether the readings were typed by a person: nothing in them tells whether they stood still. */
export function isTyped(config: EngineConfig): boolean {
  return config.marks.includes('typedByHand');
}

/** Typed readings of which a person says that they stood still and belong together. */
function attested(content: SnapshotContent): SnapshotContent {
  return {
    ...content,
    state: 'settled',
    channels: content.channels.map((c) => ({ ...c, marks: c.marks.filter((m) => m !== 'stale') })),
  };
}

/** Accuracy taken for an airflow typed in, k = 2: that of a careful traverse or flow plate. */
const FLOW_U = 0.07;

function airflowOf(asked: Asked): Airflow {
  if (asked.airflow !== 'measured') return { kind: asked.airflow };
  const { flow } = asked;
  if (flow === null) return { kind: 'unknown' };
  return { kind: 'measured', flow: { value: flow, u: FLOW_U * flow } };
}

function referenceOf(reference: Reference | undefined): ReferenceSnapshot | null {
  if (reference === undefined) return null;
  return { label: reference.text, config: reference.config, content: reference.content };
}
