import { closeSync, openSync, readSync, statSync, type Stats } from 'node:fs';
import { resolve } from 'node:path';
import { EXTENSION } from '../jobfile/schema.ts';
import { writeAtomically } from '../services/atomic-file.ts';
import { parseHeader } from '../sources/csv-header.ts';
import { UserError } from './args.ts';

/** Options of a verb that writes a file. */
export const OUTPUT_OPTIONS = { out: { type: 'string' }, force: { type: 'boolean' } } as const;

interface OutputValues {
  readonly out?: string | undefined;
  readonly force?: boolean | undefined;
}

/**
 * The file of `--out`: checked before the work, so that a slip is told at once.
 *
 * @param input the file that is read, which must never be written over
 * @throws UserError where it is missing, is the input or no plain file, would take the place of a job,
 *   or of something that is no table of channels and `--force` is not given
 */
export function readOutput(values: OutputValues, input: string | undefined): string {
  const { out } = values;
  if (out === undefined) throw new UserError('where to? --out FILE.csv is missing');
  if (input !== undefined && resolve(out) === resolve(input)) {
    throw new UserError(`--out ${out} is the file that is read; choose another name`);
  }
  if (out.endsWith(EXTENSION)) {
    throw new UserError(`--out ${out} is the name of a job; a table ends in .csv`);
  }
  const there = lookAt(out);
  if (there?.isDirectory() === true) {
    throw new UserError(`--out ${out} is a folder; give the name of a file in it`);
  }
  if (there?.isFile() === false) {
    throw new UserError(`--out ${out} is not a plain file; give the name of one`);
  }
  if (there !== undefined && values.force !== true && !isReplaceable(out, there.size)) {
    throw new UserError(
      `--out ${out} is there already and is no table of channels; choose another name, or add --force`,
    );
  }
  return out;
}

/** Longer than the header of any table. */
const HEADER_BYTES = 4096;

/** A column as we write it: a table spelled otherwise is somebody else's, though we can read it. */
const OUR_NAME = /^(?:time\[s\]|[a-z]\w*\[[A-Za-z]+\])$/;

/** Whether a file is empty or begins as a table does: an earlier answer, made again the same way. */
function isReplaceable(path: string, size: number): boolean {
  if (size === 0) return true;
  const bytes = Buffer.alloc(HEADER_BYTES);
  const file = openSync(path, 'r');
  try {
    const read = readSync(file, bytes, 0, HEADER_BYTES, 0);
    const [line = ''] = bytes.toString('utf8', 0, read).split(/\r?\n/, 1);
    const names = line.split(',');
    return names.every((name) => OUR_NAME.test(name)) && parseHeader(names, 1).ok;
  } finally {
    closeSync(file);
  }
}

/** What stands at a path; nothing where no path leads to it. */
function lookAt(path: string): Stats | undefined {
  try {
    return statSync(path, { throwIfNoEntry: false });
  } catch {
    // A file in the place of a folder, say: writing will tell.
    return undefined;
  }
}

/** What the disk says, for those whose folder or file cannot be written. */
const WHY: Readonly<Record<string, string>> = {
  EACCES: 'it may not be written to',
  EPERM: 'it may not be written to',
  EROFS: 'it may not be written to',
  ENOSPC: 'the disk is full',
  ENOTDIR: 'a part of its path is a file, not a folder',
  EEXIST: 'a part of its path is a file, not a folder',
  ENAMETOOLONG: 'its name is too long',
};

/**
 * Writes the whole file or none of it.
 *
 * @throws UserError when the disk says no
 */
export function writeOutput(path: string, text: string): void {
  try {
    writeAtomically(path, text);
  } catch (error) {
    const code = (error as NodeJS.ErrnoException).code ?? '';
    const why = WHY[code] ?? (error instanceof Error ? error.message : String(error));
    throw new UserError(`cannot write ${path}: ${why}`);
  }
}
