import { existsSync, renameSync, rmSync } from 'node:fs';
import sqlite from 'node-sqlite3-wasm';
import { fail, ok, type Result } from '../../core/result.ts';
import { JobHeadSchema, UnitSchema, type JobHead, type Unit } from '../../core/record/job.ts';
import { errorText } from '../error-text.ts';
import { completeChannelIds } from './channel-ids.ts';
import { openDatabase } from './database.ts';
import { inspect } from './inspect.ts';
import { takeOwnership, type Purpose } from './owner-lock.ts';
import { bodyText } from './rows.ts';
import { CREATE_SQL } from './schema.ts';
import { SqliteJobFile } from './sqlite-job-file.ts';
import type { Actor, JobFile, Refusal } from './types.ts';

/**
 * Opens a job for reading and writing. A file that is damaged, truncated, foreign, of a newer
 * version or open elsewhere is refused with the reason and left untouched.
 *
 * @param purpose 'read' tells others that it will be let go of in a moment
 */
export function openJobFile(path: string, purpose: Purpose = 'work'): Result<JobFile, Refusal> {
  if (!existsSync(path)) return fail({ code: 'NOT_FOUND', detail: 'there is no such file' });
  const owner = takeOwnership(path, purpose);
  if (!owner.ok) return owner;
  const refuse = (refusal: Refusal): Result<JobFile, Refusal> => {
    owner.value.release();
    return fail(refusal);
  };
  const refusal = inspect(path);
  if (refusal !== null) return refuse(refusal);
  try {
    return ok(new SqliteJobFile(path, openDatabase(path), owner.value));
  } catch (error) {
    return refuse({ code: 'IO', detail: errorText(error) });
  }
}

const EXISTS: Refusal = { code: 'EXISTS', detail: 'there is already such a file' };

/**
 * Whether a name is in use. The log that a pulled plug left beside a job that was then deleted counts:
 * SQLite would take it for the log of the new one and write the old pages into it.
 */
function isTaken(path: string): boolean {
  return existsSync(path) || existsSync(`${path}-wal`);
}

/**
 * Creates a job; an existing file is never overwritten.
 *
 * @param units at least one
 */
export function createJobFile(
  path: string,
  head: JobHead,
  units: readonly Unit[],
  by: Actor,
): Result<JobFile, Refusal> {
  if (isTaken(path)) return fail(EXISTS);
  const owner = takeOwnership(path);
  if (!owner.ok) return owner;
  // Looked at again: another program may have made it in between.
  if (isTaken(path)) {
    owner.value.release();
    return fail(EXISTS);
  }
  // Made whole under another name: a plug pulled on the way leaves no half-made job.
  const part = `${path}.part`;
  try {
    // What a plug pulled on the way left; its lock would hold this one up for ever.
    for (const left of ['', '-journal', '.lock']) {
      rmSync(`${part}${left}`, { recursive: true, force: true });
    }
    build(part, head, units, by);
    renameSync(part, path);
    return ok(new SqliteJobFile(path, openDatabase(path), owner.value));
  } catch (error) {
    rmSync(part, { force: true });
    owner.value.release();
    return fail({ code: 'IO', detail: errorText(error) });
  }
}

/** Writes a new job; nothing in it is to be trusted before this returns. */
function build(path: string, head: JobHead, units: readonly Unit[], by: Actor): void {
  const db = new sqlite.Database(path);
  try {
    db.exec('BEGIN');
    db.exec(CREATE_SQL);
    completeChannelIds(db);
    db.run('INSERT INTO job VALUES (1, ?)', [bodyText(head, JobHeadSchema, 'the head of the job')]);
    for (const unit of units) {
      db.run('INSERT INTO unit VALUES (?, ?)', [
        unit.key,
        bodyText(unit, UnitSchema, `unit ${unit.key}`),
      ]);
    }
    db.run('INSERT INTO log (at, author, what, detail) VALUES (?, ?, ?, ?)', [
      by.at,
      by.author,
      'job.created',
      JSON.stringify({ head, units }),
    ]);
    db.exec('COMMIT');
  } finally {
    db.close();
  }
}
