import { closeSync, openSync } from 'node:fs';
import { basename, isAbsolute, join, resolve } from 'node:path';
import { EXTENSION } from '../jobfile/schema.ts';

const LONGEST_NAME = 80;

/** A file name that every system takes, from what a person called the job. */
export function fileNameFor(title: string): string {
  const plain = title
    .normalize('NFC')
    .replace(/[\p{C}/\\:*?"<>|]/gu, ' ')
    .replace(/\s+/g, ' ')
    .trim()
    .replace(/^[.\s]+|[.\s]+$/g, '')
    .slice(0, LONGEST_NAME)
    .trim();
  return plain === '' ? 'Job' : plain;
}

/** The names to try in turn: as it is, then numbered. */
export function* candidates(folder: string, name: string): Generator<string> {
  yield join(folder, name + EXTENSION);
  for (let n = 2; n < 10_000; n += 1) yield join(folder, `${name} (${n})${EXTENSION}`);
}

/**
 * Reserves a free name by an empty file, so that nothing that exists is ever written over.
 *
 * @throws Error when the disk says no
 */
export function reserve(folder: string, name: string): string {
  for (const path of candidates(folder, name)) {
    try {
      closeSync(openSync(path, 'wx'));
      return path;
    } catch (error) {
      if ((error as NodeJS.ErrnoException).code !== 'EEXIST') throw error;
    }
  }
  throw new Error(`there are too many jobs called ${name}`);
}

/** A file name inside the jobs folder, or an absolute path; null for a path that is neither. */
export function resolveJobPath(folder: string, file: string): string | null {
  if (isAbsolute(file)) return resolve(file);
  return basename(file) === file && file !== '.' && file !== '..' ? join(folder, file) : null;
}
