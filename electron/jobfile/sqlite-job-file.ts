import { UnitAnswersSchema, type UnitAnswers } from '../../core/record/answers.ts';
import {
  FindingSchema,
  JobHeadSchema,
  NoteSchema,
  UnitSchema,
  type Finding,
  type JobHead,
  type LogEntry,
  type Note,
  type Unit,
} from '../../core/record/job.ts';
import { SnapshotReviewSchema, type SnapshotReview } from '../../core/record/review.ts';
import { SessionSchema, type Session } from '../../core/record/session.ts';
import type { SnapshotRecord } from '../../core/record/snapshot.ts';
import type { Sample, UnitKey } from '../../core/stream/sample.ts';
import { readChannelIds } from './channel-ids.ts';
import { closeDatabase, prepareToWrite, type Db } from './database.ts';
import type { OwnerLock } from './owner-lock.ts';
import { SqliteRecorder } from './recorder.ts';
import {
  bodyText,
  readAnswers,
  readFindings,
  readHead,
  readLog,
  readNotes,
  readReviews,
  readSample,
  readSessions,
  readSnapshots,
  readUnits,
  SAMPLE_COLUMNS,
  SnapshotSchema,
} from './rows.ts';
import { createSampleHash } from './sample-hash.ts';
import { ADDED_SQL } from './schema.ts';
import type { Actor, JobFile, SessionRecorder, StoredSession, StreamSeal } from './types.ts';

/** Samples read at a time. */
const CHUNK = 8192;
/** The latest time is among this many samples at the end: late ones come after it. */
const LATE_AT_MOST = 500;

/** A job in an open SQLite database that passed its inspection. */
export class SqliteJobFile implements JobFile {
  readonly path: string;
  readonly #db: Db;
  readonly #owner: OwnerLock;
  #recorder: SessionRecorder | null = null;
  #open = true;

  constructor(path: string, db: Db, owner: OwnerLock) {
    this.path = path;
    this.#db = db;
    this.#owner = owner;
  }

  head(): JobHead {
    return readHead(this.#db);
  }

  units(): readonly Unit[] {
    return readUnits(this.#db);
  }

  sessions(): readonly StoredSession[] {
    return readSessions(this.#db).map((session) => ({ session, ...this.#extent(session.id) }));
  }

  snapshots(): readonly SnapshotRecord[] {
    return readSnapshots(this.#db);
  }

  findings(): readonly Finding[] {
    return readFindings(this.#db);
  }

  notes(): readonly Note[] {
    return readNotes(this.#db);
  }

  answers(): readonly UnitAnswers[] {
    return readAnswers(this.#db);
  }

  reviews(): readonly SnapshotReview[] {
    return readReviews(this.#db);
  }

  log(): readonly LogEntry[] {
    return readLog(this.#db);
  }

  updateHead(head: JobHead, by: Actor): void {
    const text = bodyText(head, JobHeadSchema, 'the head of the job');
    this.#change(by, 'job.updated', { before: this.head(), after: head }, () => {
      this.#db.run('UPDATE job SET head = ?', [text]);
    });
  }

  saveUnit(unit: Unit, by: Actor): void {
    const text = bodyText(unit, UnitSchema, `unit ${unit.key}`);
    const before = this.units().find((u) => u.key === unit.key) ?? null;
    this.#change(by, 'unit.saved', { before, after: unit }, () => {
      this.#db.run(
        'INSERT INTO unit VALUES (?, ?) ON CONFLICT (key) DO UPDATE SET body = excluded.body',
        [unit.key, text],
      );
    });
  }

  addFinding(finding: Finding): void {
    const text = bodyText(finding, FindingSchema, 'the finding');
    this.#change(finding, 'finding.added', finding, () => {
      this.#db.run('INSERT INTO finding (id, body) VALUES (?, ?)', [finding.id, text]);
    });
  }

  addNote(note: Note): void {
    const text = bodyText(note, NoteSchema, 'the note');
    this.#change(note, 'note.added', note, () => {
      this.#db.run('INSERT INTO note (id, body) VALUES (?, ?)', [note.id, text]);
    });
  }

  saveAnswers(answers: UnitAnswers): void {
    const { unit } = answers;
    const text = bodyText(answers, UnitAnswersSchema, `the answers of unit ${unit}`);
    const before = this.answers().find((a) => a.unit === unit)?.answers ?? null;
    this.#change(answers, 'answers.saved', { unit, before, after: answers.answers }, () => {
      this.#db.exec(ADDED_SQL);
      this.#db.run(
        'INSERT INTO answers VALUES (?, ?) ON CONFLICT (unit) DO UPDATE SET body = excluded.body',
        [unit, text],
      );
    });
  }

  addReview(review: SnapshotReview): void {
    const text = bodyText(review, SnapshotReviewSchema, 'the review');
    this.#change(review, 'snapshot.reviewed', review, () => {
      this.#db.exec(ADDED_SQL);
      this.#db.run('INSERT INTO review (id, body) VALUES (?, ?)', [review.id, text]);
    });
  }

  addSnapshot(snapshot: SnapshotRecord): void {
    const { id, sessionId, unit, label, sampleCount, sampleHash } = snapshot;
    const detail = { id, sessionId, unit, label, sampleCount, sampleHash };
    const by = { author: snapshot.author, at: snapshot.takenAt };
    const text = bodyText(snapshot, SnapshotSchema, 'the snapshot');
    this.#change(by, 'snapshot.taken', detail, () => {
      this.#db.run('INSERT INTO snapshot (id, body) VALUES (?, ?)', [id, text]);
    });
  }

  startSession(session: Session, by: Actor): SessionRecorder {
    this.#checkIdle();
    const text = bodyText(session, SessionSchema, 'the session');
    this.#change(by, 'session.started', session, () => {
      this.#db.run('INSERT INTO session (id, body, ended_at) VALUES (?, ?, ?)', [
        session.id,
        text,
        null,
      ]);
    });
    return this.#record(session);
  }

  resumeSession(sessionId: string, by: Actor): SessionRecorder {
    this.#checkIdle();
    const session = this.#unfinished(sessionId);
    this.#change(by, 'session.resumed', { id: sessionId }, () => undefined);
    return this.#record(session);
  }

  sealSession(sessionId: string, by: Actor): void {
    if (this.#recorder?.sessionId === sessionId) throw new Error('it is being recorded');
    const seals = this.#unfinished(sessionId).units.map(({ unit }): StreamSeal => {
      const hash = createSampleHash();
      let sampleCount = 0;
      for (const chunk of this.samples(sessionId, unit)) {
        for (const sample of chunk) hash.add(sample);
        sampleCount += chunk.length;
      }
      return { unit, sampleCount, sampleHash: hash.digest() };
    });
    this.#end(sessionId, by, 'session.sealed', seals);
  }

  *samples(sessionId: string, unit: UnitKey): Iterable<readonly Sample[]> {
    const stream = this.#db.get('SELECT id FROM stream WHERE session_id = ? AND unit = ?', [
      sessionId,
      unit,
    ]) as { id: number } | null;
    if (stream === null) return;
    const channels = readChannelIds(this.#db);
    for (let last = 0; ; last += CHUNK) {
      const rows = this.#db.all(
        `SELECT ${SAMPLE_COLUMNS} FROM sample
         WHERE stream = ? AND ordinal > ? AND ordinal <= ? ORDER BY ordinal`,
        [stream.id, last, last + CHUNK],
      );
      if (rows.length === 0) return;
      yield rows.map((row, i) => readSample(row, channels, last + i + 1));
    }
  }

  sampleHash(sessionId: string, unit: UnitKey, count: number): string | null {
    const hash = createSampleHash();
    let left = count;
    for (const chunk of this.samples(sessionId, unit)) {
      for (const sample of chunk.slice(0, left)) hash.add(sample);
      left -= Math.min(left, chunk.length);
      if (left === 0) break;
    }
    return left === 0 ? hash.digest() : null;
  }

  close(): void {
    if (!this.#open) return;
    this.#open = false;
    try {
      this.#recorder?.release();
    } finally {
      closeDatabase(this.#db);
      this.#owner.release();
    }
  }

  /** Length of a recording, from the ends of its streams: no walk through its samples. */
  #extent(sessionId: string): { samples: number; duration_s: number } {
    const rows = this.#db.all(
      `SELECT (SELECT max(ordinal) FROM sample WHERE sample.stream = stream.id) AS n,
              (SELECT max(t) FROM (SELECT t FROM sample WHERE sample.stream = stream.id
                                   ORDER BY ordinal DESC LIMIT ${LATE_AT_MOST})) AS last
       FROM stream WHERE session_id = ?`,
      [sessionId],
    ) as { n: number | null; last: number | null }[];
    return {
      samples: rows.reduce((sum, row) => sum + (row.n ?? 0), 0),
      duration_s: Math.max(0, ...rows.map((row) => row.last ?? 0)),
    };
  }

  #unfinished(id: string): Session {
    const session = readSessions(this.#db).find((s) => s.id === id);
    if (session === undefined) throw new RangeError(`there is no session ${id}`);
    if (session.endedAt !== null) throw new RangeError(`session ${id} has ended`);
    return session;
  }

  /** Before anything is written: a session that could not be recorded must not stand in the file. */
  #checkIdle(): void {
    if (this.#recorder !== null) throw new Error('a session is already being recorded');
  }

  #record(session: Session): SessionRecorder {
    const recorder = new SqliteRecorder({
      db: this.#db,
      sessionId: session.id,
      units: session.units.map((u) => u.unit),
      before: (unit) => this.samples(session.id, unit),
      onEnd: (end) => {
        this.#recorder = null;
        if (end !== null) this.#end(session.id, end.by, 'session.ended', end.seals);
      },
    });
    this.#recorder = recorder;
    return recorder;
  }

  /** The end goes into the log with the seals of what was recorded. */
  #end(sessionId: string, by: Actor, what: string, streams: readonly StreamSeal[]): void {
    this.#change(by, what, { id: sessionId, streams }, () => {
      this.#db.run('UPDATE session SET ended_at = ? WHERE id = ?', [by.at, sessionId]);
    });
  }

  /** A change and its line in the log, both or neither. */
  #change(by: Actor, what: string, detail: unknown, change: () => void): void {
    prepareToWrite(this.#db);
    this.#db.exec('BEGIN IMMEDIATE');
    try {
      change();
      this.#db.run('INSERT INTO log (at, author, what, detail) VALUES (?, ?, ?, ?)', [
        by.at,
        by.author,
        what,
        JSON.stringify(detail),
      ]);
      this.#db.exec('COMMIT');
    } catch (error) {
      if (this.#db.inTransaction) this.#db.exec('ROLLBACK');
      throw error;
    }
  }
}
