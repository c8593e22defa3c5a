import { resolve } from 'node:path';
import { EXTENSION } from '../jobfile/schema.ts';
import { writeAtomically } from '../services/atomic-file.ts';
import { UserError } from './args.ts';

/**
 * The file of `--out`: checked before the work, so that a slip is told at once.
 *
 * @param input the file that is read, which must never be written over
 * @throws UserError where it is missing, is the input, or would take the place of a job
 */
export function readOutput(path: string | undefined, input: string | undefined): string {
  if (path === undefined) throw new UserError('where to? --out FILE.csv is missing');
  if (input !== undefined && resolve(path) === resolve(input)) {
    throw new UserError(`--out ${path} is the file that is read; choose another name`);
  }
  if (path.endsWith(EXTENSION)) {
    throw new UserError(`--out ${path} is the name of a job; a table ends in .csv`);
  }
  return path;
}

/**
 * Writes the whole file or none of it.
 *
 * @throws UserError when the disk says no
 */
export function writeOutput(path: string, text: string): void {
  try {
    writeAtomically(path, text);
  } catch (error) {
    const why = error instanceof Error ? error.message : String(error);
    throw new UserError(`cannot write ${path}: ${why}`);
  }
}
