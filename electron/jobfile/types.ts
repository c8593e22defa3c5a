import type { UnitAnswers } from '../../core/record/answers.ts';
import type { Finding, JobHead, LogEntry, Note, Unit } from '../../core/record/job.ts';
import type { SnapshotReview } from '../../core/record/review.ts';
import type { Session } from '../../core/record/session.ts';
import type { SnapshotRecord } from '../../core/record/snapshot.ts';
import type { Sample, UnitKey } from '../../core/stream/sample.ts';

/** Why a file was not opened. It was left as it is. */
export interface Refusal {
  readonly code:
    | 'NOT_FOUND'
    | 'EXISTS'
    | 'NOT_A_JOB' /* not SQLite, or another program's SQLite */
    | 'DAMAGED' /* truncated, or its pages or rows do not fit together */
    | 'NEWER_VERSION'
    | 'LOCKED' /* another program of ours has it open */
    | 'IO';
  /** LOCKED: only for a moment; it is worth trying again. */
  readonly passing?: true;
  /** In words, for a person. */
  readonly detail: string;
}

/** Who does something, and when (ISO 8601). */
export interface Actor {
  readonly author: string;
  readonly at: string;
}

/** A session with how far its recording goes. */
export interface StoredSession {
  readonly session: Session;
  readonly samples: number;
  /** Time of the latest sample, s after the session's origin. */
  readonly duration_s: number;
}

/** How many samples of a unit a session holds, and their hash: the seal the log keeps of its end. */
export interface StreamSeal {
  readonly unit: UnitKey;
  readonly sampleCount: number;
  readonly sampleHash: string;
}

/** Appends the samples of a running session. */
export interface SessionRecorder {
  readonly sessionId: string;
  /**
   * Takes samples; they are on the disk within half a second. Throws when the disk says no, and
   * RangeError, taking none, for a number that is not finite or a sequence number not whole.
   */
  append(unit: UnitKey, samples: readonly Sample[]): void;
  /** Brings everything appended to the disk now. Throws when the disk says no. */
  flush(): void;
  /** Samples of a unit so far, and their hash: what a snapshot keeps. */
  mark(unit: UnitKey): { readonly sampleCount: number; readonly sampleHash: string };
  /** Ends the session properly. */
  end(by: Actor): void;
  /** Stops recording without ending the session: it stays unfinished. */
  release(): void;
}

/**
 * One open job. Every change goes to its append-only log in the same transaction. What does not fit the
 * schemas of core/record is refused with an Error that says where; nothing is then written.
 */
export interface JobFile {
  readonly path: string;
  head(): JobHead;
  units(): readonly Unit[];
  sessions(): readonly StoredSession[];
  snapshots(): readonly SnapshotRecord[];
  findings(): readonly Finding[];
  notes(): readonly Note[];
  /** What no sensor tells, the latest of each unit. */
  answers(): readonly UnitAnswers[];
  /** What reviewers said of snapshots, in order. */
  reviews(): readonly SnapshotReview[];
  log(): readonly LogEntry[];
  updateHead(head: JobHead, by: Actor): void;
  /** Adds the unit, or replaces the one with its key. */
  saveUnit(unit: Unit, by: Actor): void;
  addFinding(finding: Finding): void;
  addNote(note: Note): void;
  /** Puts these in the place of the unit's earlier answers; the log keeps both. */
  saveAnswers(answers: UnitAnswers): void;
  addReview(review: SnapshotReview): void;
  addSnapshot(snapshot: SnapshotRecord): void;
  startSession(session: Session, by: Actor): SessionRecorder;
  /** Goes on with an unfinished session. Throws RangeError for an unknown or ended one. */
  resumeSession(sessionId: string, by: Actor): SessionRecorder;
  /** Ends an unfinished session as it is. Throws RangeError for an unknown or ended one. */
  sealSession(sessionId: string, by: Actor): void;
  /** Samples of one unit in order of arrival, in chunks. */
  samples(sessionId: string, unit: UnitKey): Iterable<readonly Sample[]>;
  /** Hash of the first `count` samples of a unit; null when there are fewer. */
  sampleHash(sessionId: string, unit: UnitKey, count: number): string | null;
  /** Brings all to the disk and lets go of the file. Safe to call twice. */
  close(): void;
}
