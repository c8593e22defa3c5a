import type { EngineConfig, EngineState, SnapshotContent } from '../../core/engine-types.ts';
import type { Finding, JobHead, LogEntry, Note, Unit } from '../../core/record/job.ts';
import type { Session, SourceKind } from '../../core/record/session.ts';
import type { SnapshotRecord } from '../../core/record/snapshot.ts';
import type { Capability, Health, Playback } from '../sources/source.ts';

/** What the renderer is told: plain data only, the same over both transports. */

export interface AppInfo {
  readonly version: string;
  readonly host: 'electron' | 'loopback';
  readonly jobsFolder: string;
}

export interface Settings {
  readonly units: 'us' | 'si';
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
  readonly log: readonly LogEntry[];
}

/** A running or replayed session with the state of each of its units. */
export interface SessionView {
  readonly role: 'live' | 'review';
  readonly sessionId: string;
  readonly origin: string;
  readonly source: { readonly kind: SourceKind; readonly label: string };
  readonly capabilities: readonly Capability[];
  readonly health: Health;
  readonly playback: Playback | null;
  readonly units: readonly {
    readonly unit: string;
    readonly config: EngineConfig;
    readonly state: EngineState;
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
