import { existsSync, rmSync } from 'node:fs';
import sqlite from 'node-sqlite3-wasm';
import { fail, ok, type Result } from '../../core/result.ts';
import type { JobHead, Unit } from '../../core/record/job.ts';
import { inspect } from './inspect.ts';
import { takeOwnership } from './owner-lock.ts';
import { checkRows } from './rows.ts';
import { CREATE_SQL } from './schema.ts';
import { SqliteJobFile } from './sqlite-job-file.ts';
import type { Actor, JobFile, Refusal } from './types.ts';

function message(error: unknown): string {
  return error instanceof Error ? error.message : String(error);
}

/**
 * Opens a job for reading and writing. A file that is damaged, truncated, foreign, of a newer
 * version or open elsewhere is refused with the reason and left untouched.
 */
export function openJobFile(path: string): Result<JobFile, Refusal> {
  if (!existsSync(path)) return fail({ code: 'NOT_FOUND', detail: 'there is no such file' });
  const owner = takeOwnership(path);
  if (!owner.ok) return owner;
  const refuse = (refusal: Refusal): Result<JobFile, Refusal> => {
    owner.value.release();
    return fail(refusal);
  };
  const refusal = inspect(path);
  if (refusal !== null) return refuse(refusal);
  let db: InstanceType<typeof sqlite.Database> | null = null;
  try {
    db = new sqlite.Database(path, { fileMustExist: true });
    checkRows(db);
    return ok(new SqliteJobFile(path, db, owner.value));
  } catch (error) {
    db?.close();
    return refuse({ code: 'DAMAGED', detail: message(error) });
  }
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
  if (existsSync(path)) return fail({ code: 'EXISTS', detail: 'there is already such a file' });
  const owner = takeOwnership(path);
  if (!owner.ok) return owner;
  let db: InstanceType<typeof sqlite.Database> | null = null;
  try {
    db = new sqlite.Database(path);
    db.exec('BEGIN');
    db.exec(CREATE_SQL);
    db.run('INSERT INTO job VALUES (1, ?)', [JSON.stringify(head)]);
    for (const unit of units) {
      db.run('INSERT INTO unit VALUES (?, ?)', [unit.key, JSON.stringify(unit)]);
    }
    db.run('INSERT INTO log (at, author, what, detail) VALUES (?, ?, ?, ?)', [
      by.at,
      by.author,
      'job.created',
      JSON.stringify({ head, units }),
    ]);
    db.exec('COMMIT');
    return ok(new SqliteJobFile(path, db, owner.value));
  } catch (error) {
    db?.close();
    rmSync(path, { force: true });
    owner.value.release();
    return fail({ code: 'IO', detail: message(error) });
  }
}
