import { z } from 'zod';
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
import {
  InstantSchema,
  SessionSchema,
  SOURCE_KINDS,
  type Session,
} from '../../core/record/session.ts';
import { SnapshotReviewSchema, type SnapshotReview } from '../../core/record/review.ts';
import type { SnapshotRecord } from '../../core/record/snapshot.ts';
import type { ChannelKey } from '../../core/stream/channels.ts';
import { GAP_REASONS, type GapReason, type Sample } from '../../core/stream/sample.ts';
import type { ChannelIds } from './channel-ids.ts';
import type { Db } from './database.ts';

type Row = Readonly<Record<string, unknown>>;

/** What of a snapshot must be there for it to be shown; its numbers are checked by replaying. */
export const SnapshotSchema = z.looseObject({
  id: z.string(),
  sessionId: z.string(),
  unit: z.string(),
  takenAt: InstantSchema,
  label: z.string(),
  note: z.string(),
  author: z.string(),
  sourceKind: z.enum(SOURCE_KINDS),
  programVersion: z.string(),
  sampleCount: z.number().int().nonnegative(),
  sampleHash: z.string(),
  config: z.looseObject({}),
  content: z.looseObject({ figures: z.looseObject({}), channels: z.array(z.looseObject({})) }),
});

function body<T>(row: Row, column: string, schema: z.ZodType<T>, what: string): T {
  let json: unknown;
  try {
    json = JSON.parse(String(row[column]));
  } catch {
    throw new Error(`${what} is not JSON`);
  }
  return fitting(json, schema, what);
}

/**
 * The text in which something is kept. What could not be read back is refused now: in the file it
 * would make the whole job one that cannot be opened.
 *
 * @throws Error with the place where it does not fit
 */
export function bodyText(value: unknown, schema: z.ZodType, what: string): string {
  const text = JSON.stringify(value);
  fitting(JSON.parse(text), schema, what);
  return text;
}

function fitting<T>(json: unknown, schema: z.ZodType<T>, what: string): T {
  const parsed = schema.safeParse(json);
  if (parsed.success) return parsed.data;
  const [issue] = parsed.error.issues;
  throw new Error(
    `${what} does not fit at ${issue?.path.join('.') ?? ''}: ${issue?.message ?? ''}`,
  );
}

const all = (db: Db, sql: string): readonly Row[] => db.all(sql);

export function readHead(db: Db): JobHead {
  const [row] = all(db, 'SELECT head FROM job');
  if (row === undefined) throw new Error('the job has no head');
  return body(row, 'head', JobHeadSchema, 'the head of the job');
}

export function readUnits(db: Db): Unit[] {
  return all(db, 'SELECT key, body FROM unit ORDER BY key').map((row) =>
    body(row, 'body', UnitSchema, `unit ${String(row['key'])}`),
  );
}

export function readSessions(db: Db): Session[] {
  return all(db, 'SELECT id, body, ended_at FROM session ORDER BY number').map((row) => ({
    ...body(row, 'body', SessionSchema, `session ${String(row['id'])}`),
    endedAt: typeof row['ended_at'] === 'string' ? row['ended_at'] : null,
  }));
}

export function readSnapshots(db: Db): SnapshotRecord[] {
  return all(db, 'SELECT id, body FROM snapshot ORDER BY number').map(
    (row) =>
      body(
        row,
        'body',
        SnapshotSchema,
        `snapshot ${String(row['id'])}`,
      ) as unknown as SnapshotRecord,
  );
}

export function readFindings(db: Db): Finding[] {
  return all(db, 'SELECT id, body FROM finding ORDER BY number').map((row) =>
    body(row, 'body', FindingSchema, `finding ${String(row['id'])}`),
  );
}

export function readNotes(db: Db): Note[] {
  return all(db, 'SELECT id, body FROM note ORDER BY number').map((row) =>
    body(row, 'body', NoteSchema, `note ${String(row['id'])}`),
  );
}

export function readAnswers(db: Db): UnitAnswers[] {
  if (!hasTable(db, 'answers')) return [];
  return all(db, 'SELECT unit, body FROM answers ORDER BY unit').map((row) =>
    body(row, 'body', UnitAnswersSchema, `the answers of unit ${String(row['unit'])}`),
  );
}

export function readReviews(db: Db): SnapshotReview[] {
  if (!hasTable(db, 'review')) return [];
  return all(db, 'SELECT id, body FROM review ORDER BY number').map((row) =>
    body(row, 'body', SnapshotReviewSchema, `review ${String(row['id'])}`),
  );
}

/** Files written before a table was added do not have it. */
function hasTable(db: Db, name: string): boolean {
  return db.get("SELECT 1 FROM sqlite_master WHERE type = 'table' AND name = ?", [name]) !== null;
}

export function readLog(db: Db): LogEntry[] {
  return all(db, 'SELECT at, author, what, detail FROM log ORDER BY number').map((row) => ({
    at: String(row['at']),
    author: String(row['author']),
    what: String(row['what']),
    detail: JSON.parse(String(row['detail'])) as unknown,
  }));
}

/** Columns a sample is read from. */
export const SAMPLE_COLUMNS = 'channel, t, value, why, seq, device_time';

const gapReasons: ReadonlySet<unknown> = new Set(GAP_REASONS);

/**
 * One row of samples.
 *
 * @param ordinal its place in the stream, for errors
 * @throws Error where the row is not one of ours
 */
export function readSample(row: Row, channels: ChannelIds, ordinal: number): Sample {
  const { t, value, why, seq, device_time: deviceTime } = row;
  const channel = channels.keyOf.get(Number(row['channel']));
  if (channel === undefined) throw new Error(`sample ${ordinal} is of a channel we do not know`);
  if (typeof t !== 'number') throw new Error(`sample ${ordinal} has no time`);
  const base: { channel: ChannelKey; t: number; seq?: number; deviceTime_s?: number } = {
    channel,
    t,
  };
  if (seq !== null) base.seq = Number(seq);
  if (deviceTime !== null) base.deviceTime_s = Number(deviceTime);
  return value === null
    ? { ...base, value, why: gapReason(why, ordinal) }
    : { ...base, value: Number(value) };
}

function gapReason(why: unknown, ordinal: number): GapReason {
  if (!gapReasons.has(why)) throw new Error(`sample ${ordinal} has neither a value nor a reason`);
  return why as GapReason;
}

/** Reads everything but the samples once. Throws with the place where something does not fit. */
export function checkRows(db: Db): void {
  readHead(db);
  readUnits(db);
  readSessions(db);
  readSnapshots(db);
  readFindings(db);
  readNotes(db);
  readAnswers(db);
  readReviews(db);
  readLog(db);
}
