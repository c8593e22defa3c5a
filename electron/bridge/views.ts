import type { RunPattern, StoodStill } from '../../core/diagnosis/types.ts';
import type { EngineConfig, EngineState, SnapshotContent } from '../../core/engine-types.ts';
import type { UnitAnswers } from '../../core/record/answers.ts';
import type { Finding, JobHead, LogEntry, Note, Unit } from '../../core/record/job.ts';
import type { SnapshotReview } from '../../core/record/review.ts';
import type { Session, SourceKind } from '../../core/record/session.ts';
import type { SnapshotRecord } from '../../core/record/snapshot.ts';
import type { SensorHealth } from '../../core/radio/sensor-health.ts';
import type { SwapQuestion } from '../../core/radio/swap-check.ts';
import type { ChannelKey } from '../../core/stream/channels.ts';
import type { Quantity } from '../../core/units/symbols.ts';
import type { UnitSystem } from '../../core/units/systems.ts';
import type { Capability, Health, Playback } from '../sources/source.ts';

export type { HealthState } from '../sources/source.ts';

/** What the renderer is told: plain data only, the same over both transports. */

export interface AppInfo {
  readonly version: string;
  readonly host: 'electron' | 'loopback';
  readonly jobsFolder: string;
}

export interface Settings {
  readonly units: UnitSystem;
  readonly author: string;
  readonly sound: boolean;
}

export interface SourceRow {
  readonly kind: SourceKind;
  readonly label: string;
  readonly hint: string;
  readonly available: boolean;
}

export interface ScenarioRow {
  readonly id: string;
  readonly title: string;
  readonly summary: string;
  readonly units: readonly string[];
  readonly duration_s: number;
}

export interface JobRow {
  readonly file: string;
  readonly title: string;
  readonly site: string;
  readonly modifiedAt: string;
  readonly sessions: number;
  readonly snapshots: number;
  /** Why the file cannot be opened, in words; null where it can. */
  readonly refused: string | null;
}

export interface SessionRow extends Session {
  readonly samples: number;
  readonly duration_s: number;
  /** Its recording did not end properly: the program offers to go on with it. */
  readonly unfinished: boolean;
}

export interface JobView {
  readonly file: string;
  readonly head: JobHead;
  readonly units: readonly Unit[];
  readonly sessions: readonly SessionRow[];
  readonly snapshots: readonly SnapshotRecord[];
  readonly findings: readonly Finding[];
  readonly notes: readonly Note[];
  readonly answers: readonly UnitAnswers[];
  readonly reviews: readonly SnapshotReview[];
  readonly log: readonly LogEntry[];
}

/** A reading at rest of a unit of the open job, taken on an earlier visit: it is in another job. */
export interface EarlierVisit {
  readonly file: string;
  readonly title: string;
  readonly snapshot: SnapshotRecord;
}

/** A running or replayed session with the state of each of its units. */
export interface SessionView {
  readonly role: 'live' | 'review';
  readonly sessionId: string;
  readonly origin: string;
  readonly source: Session['source'];
  readonly capabilities: readonly Capability[];
  readonly health: Health;
  readonly playback: Playback | null;
  readonly units: readonly {
    readonly unit: string;
    readonly config: EngineConfig;
    readonly state: EngineState;
    /** How the compressor started and stopped so far; null before the first frame. */
    readonly pattern: RunPattern | null;
    /** What it told while it stood still in the session; null where that was not seen. */
    readonly stood: StoodStill | null;
    /** Sensors that look exchanged: questions for a person. */
    readonly questions: readonly SwapQuestion[];
  }[];
  /** Batches dropped on the way to the screen (never to the disk): shown, not hidden. */
  readonly overflow: number;
}

/** One line of a chart: at most the asked number of points, gaps as null. SI values. */
export interface TrendLine {
  readonly key: string;
  readonly points: readonly (readonly [t: number, value: number | null])[];
}

export interface CsvSummary {
  readonly id: string;
  readonly name: string;
  readonly channels: readonly string[];
  readonly rows: number;
  readonly duration_s: number;
  /** What is left out of it or cannot be used, with its place. */
  readonly notes: readonly string[];
}

export interface VerifyRow {
  readonly snapshotId: string;
  readonly label: string;
  readonly unit: string;
  readonly samplesAgree: boolean;
  readonly numbersAgree: boolean;
  /** What differs, in words; null where all agrees. */
  readonly detail: string | null;
}

export interface Recomputed {
  readonly unit: string;
  readonly config: EngineConfig;
  readonly content: SnapshotContent | null;
  readonly refused: string | null;
}

/** One value of a sensor; SI. */
export interface SensorValueView {
  readonly key: string;
  readonly label: string;
  readonly quantity: Quantity;
  /** As a channel takes it: made absolute, zero taken off. Null before the first or unknown. */
  readonly value: number | null;
  /** As the sensor sent it. */
  readonly sent: number | null;
  readonly ago_s: number | null;
  readonly period_s: number | null;
  /** The channel its own words suggest. */
  readonly hint: ChannelKey | null;
  readonly assigned: { readonly unit: string; readonly channel: ChannelKey } | null;
  readonly reference: 'gauge' | 'absolute' | null;
  readonly zero: { readonly offset_Pa: number; readonly at: string } | null;
}

/** A sensor in sight or remembered. */
export interface SensorView {
  readonly id: string;
  readonly name: string;
  readonly heardAs: string | null;
  readonly address: string | null;
  readonly remembered: boolean;
  readonly reach: 'link' | 'broadcast';
  readonly connectable: boolean;
  readonly rssi_dBm: number | null;
  readonly battery_percent: number | null;
  readonly seenAgo_s: number | null;
  /** Null for one that was not added. */
  readonly health: { readonly state: SensorHealth; readonly tip: string } | null;
  readonly keyNeeded: boolean;
  readonly hasKey: boolean;
  readonly description: string | null;
  /** Why its last packet was refused. */
  readonly refusal: string | null;
  readonly info: Readonly<Record<string, string>>;
  readonly values: readonly SensorValueView[];
}

/** Two sensors of a unit that look exchanged: a question for a person. */
export interface SwapQuestionView extends SwapQuestion {
  readonly unit: string;
}

/** Everything the sensors screen shows. */
export interface SensorsView {
  /** What is amiss with the radio itself. */
  readonly alert: { readonly code: string; readonly tip: string } | null;
  readonly scanning: boolean;
  /** What was wrong with the sensor memory, in words. */
  readonly problem: string | null;
  readonly sensors: readonly SensorView[];
  readonly questions: readonly SwapQuestionView[];
}
