import {
  closeSync,
  copyFileSync,
  existsSync,
  fstatSync,
  mkdtempSync,
  openSync,
  readSync,
  rmSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { basename, join } from 'node:path';
import sqlite from 'node-sqlite3-wasm';
import { errorText } from '../error-text.ts';
import { openDatabase, type Db } from './database.ts';
import { checkRows } from './rows.ts';
import { APPLICATION_ID, SCHEMA_VERSION } from './schema.ts';
import type { Refusal } from './types.ts';

/** The header of an SQLite file (https://www.sqlite.org/fileformat.html, section 1.3). */
const HEADER_LENGTH = 100;
const MAGIC = 'SQLite format 3\0';
const AT = {
  pageSize: 16,
  writeVersion: 18,
  pageCount: 28,
  userVersion: 60,
  applicationId: 68,
} as const;
/**
 * The write version of a file whose newest commits may stand in a log beside it: it is set before the
 * log is begun, and taken back after the log was removed.
 */
const WRITE_AHEAD = 2;

interface Header {
  readonly bytes: Buffer;
  readonly size: number;
}

function readHeader(file: string): Header | Refusal {
  let handle: number;
  try {
    handle = openSync(file, 'r');
  } catch (error) {
    const missing = (error as NodeJS.ErrnoException).code === 'ENOENT';
    return missing
      ? { code: 'NOT_FOUND', detail: 'there is no such file' }
      : { code: 'IO', detail: errorText(error) };
  }
  try {
    const bytes = Buffer.alloc(HEADER_LENGTH);
    const length = readSync(handle, bytes, 0, HEADER_LENGTH, 0);
    return { bytes: bytes.subarray(0, length), size: fstatSync(handle).size };
  } catch (error) {
    return { code: 'IO', detail: errorText(error) };
  } finally {
    closeSync(handle);
  }
}

/** What the header alone tells: foreign, newer, truncated. */
function checkHeader({ bytes, size }: Header, hasLog: boolean): Refusal | null {
  if (bytes.length < HEADER_LENGTH || bytes.toString('latin1', 0, MAGIC.length) !== MAGIC) {
    const known = bytes.length >= MAGIC.length || !MAGIC.startsWith(bytes.toString('latin1'));
    return known && size > 0
      ? { code: 'NOT_A_JOB', detail: 'it is not a Stillpoint job' }
      : { code: 'DAMAGED', detail: 'it is cut off before its first page ends' };
  }
  if (bytes.readUInt32BE(AT.applicationId) !== APPLICATION_ID) {
    return { code: 'NOT_A_JOB', detail: "it is another program's database" };
  }
  const version = bytes.readUInt32BE(AT.userVersion);
  if (version > SCHEMA_VERSION) {
    return {
      code: 'NEWER_VERSION',
      detail: `it was written by a newer version of the program (format ${version}, known here up to ${SCHEMA_VERSION}): update the program`,
    };
  }
  const stated = bytes.readUInt16BE(AT.pageSize);
  const pageSize = stated === 1 ? 65_536 : stated;
  const whole = pageSize * bytes.readUInt32BE(AT.pageCount);
  if (!hasLog && size < whole) {
    return { code: 'DAMAGED', detail: `it is cut off: ${size} of ${whole} bytes are there` };
  }
  return null;
}

/** SQLite's own check of all pages, then ours of what the rows say. Closes the connection. */
function checkContent(db: Db): Refusal | null {
  try {
    const rows = db.all('PRAGMA quick_check(1)') as { quick_check?: string }[];
    const said = rows[0]?.quick_check ?? 'no answer';
    if (said !== 'ok') return damaged(`its pages do not fit: ${said}`);
    checkRows(db);
    return null;
  } catch (error) {
    return damaged(errorText(error));
  } finally {
    db.close();
  }
}

function damaged(detail: string): Refusal {
  return { code: 'DAMAGED', detail };
}

function opened(open: () => Db): Refusal | null {
  let db: Db;
  try {
    db = open();
  } catch (error) {
    return damaged(errorText(error));
  }
  return checkContent(db);
}

/**
 * Looks at a file without changing it: why it cannot be opened as a job, or null. A write-ahead log
 * left by a pulled plug is applied to a copy, so that a damaged file stays as it was found.
 *
 * @param file path of the file, which nobody else has open for writing
 */
export function inspect(file: string): Refusal | null {
  const log = `${file}-wal`;
  const hasLog = existsSync(log);
  const header = readHeader(file);
  if ('code' in header) return header;
  const refusal = checkHeader(header, hasLog);
  if (refusal !== null) return refusal;
  if (hasLog && header.bytes[AT.writeVersion] !== WRITE_AHEAD) {
    // SQLite would write the pages of that log over those of this file.
    return damaged(`beside it lies the log of another file (${basename(log)}): move that away`);
  }
  if (!hasLog && header.bytes[AT.writeVersion] !== WRITE_AHEAD) {
    return opened(() => new sqlite.Database(file, { readOnly: true }));
  }
  let folder: string | null = null;
  try {
    folder = mkdtempSync(join(tmpdir(), 'stillpoint-check-'));
    const copy = join(folder, 'copy');
    copyFileSync(file, copy);
    if (hasLog) copyFileSync(log, `${copy}-wal`);
    return opened(() => openDatabase(copy));
  } catch (error) {
    return { code: 'IO', detail: errorText(error) };
  } finally {
    if (folder !== null) rmSync(folder, { recursive: true, force: true });
  }
}
