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
import { join } from 'node:path';
import sqlite from 'node-sqlite3-wasm';
import { APPLICATION_ID, SCHEMA_VERSION } from './schema.ts';
import type { Refusal } from './types.ts';

/** The header of an SQLite file (https://www.sqlite.org/fileformat.html, section 1.3). */
const HEADER_LENGTH = 100;
const MAGIC = 'SQLite format 3\0';
const AT = { pageSize: 16, pageCount: 28, userVersion: 60, applicationId: 68 } as const;

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
      : { code: 'IO', detail: error instanceof Error ? error.message : String(error) };
  }
  try {
    const bytes = Buffer.alloc(HEADER_LENGTH);
    const length = readSync(handle, bytes, 0, HEADER_LENGTH, 0);
    return { bytes: bytes.subarray(0, length), size: fstatSync(handle).size };
  } catch (error) {
    return { code: 'IO', detail: error instanceof Error ? error.message : String(error) };
  } finally {
    closeSync(handle);
  }
}

/** What the header alone tells: foreign, newer, truncated. */
function checkHeader({ bytes, size }: Header, hasJournal: boolean): Refusal | null {
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
  if (!hasJournal && size < whole) {
    return { code: 'DAMAGED', detail: `it is cut off: ${size} of ${whole} bytes are there` };
  }
  return null;
}

/** SQLite's own check of all pages, on a connection that cannot write. */
function checkPages(file: string, readOnly: boolean): Refusal | null {
  let db: InstanceType<typeof sqlite.Database> | null = null;
  try {
    db = new sqlite.Database(file, { readOnly, fileMustExist: true });
    const rows = db.all('PRAGMA quick_check(1)') as { quick_check?: string }[];
    const said = rows[0]?.quick_check ?? 'no answer';
    return said === 'ok' ? null : { code: 'DAMAGED', detail: `its pages do not fit: ${said}` };
  } catch (error) {
    return { code: 'DAMAGED', detail: error instanceof Error ? error.message : String(error) };
  } finally {
    db?.close();
  }
}

/**
 * Looks at a file without changing it: why it cannot be opened as a job, or null. A journal left by
 * a pulled plug is applied to a copy first, so that a damaged file stays as it was found.
 *
 * @param file path of the file, which nobody else has open for writing
 */
export function inspect(file: string): Refusal | null {
  const journal = `${file}-journal`;
  const hasJournal = existsSync(journal);
  const header = readHeader(file);
  if ('code' in header) return header;
  const refusal = checkHeader(header, hasJournal);
  if (refusal !== null) return refusal;
  if (!hasJournal) return checkPages(file, true);
  const folder = mkdtempSync(join(tmpdir(), 'stillpoint-check-'));
  try {
    const copy = join(folder, 'copy');
    copyFileSync(file, copy);
    copyFileSync(journal, `${copy}-journal`);
    return checkPages(copy, false);
  } catch (error) {
    return { code: 'IO', detail: error instanceof Error ? error.message : String(error) };
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
