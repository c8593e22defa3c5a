import {
  closeSync,
  fsyncSync,
  mkdirSync,
  openSync,
  renameSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { dirname } from 'node:path';

/**
 * Writes a file so that after a pulled plug either the old or the new one is there, whole: to a
 * temporary file beside it, flushed, then renamed.
 *
 * @param mode permissions of the file; 0o600 where only the user may read it
 * @throws Error when the disk says no; the old file is then untouched
 */
export function writeAtomically(file: string, text: string, mode = 0o666): void {
  mkdirSync(dirname(file), { recursive: true });
  const temporary = `${file}.${process.pid}.tmp`;
  try {
    const fd = openSync(temporary, 'w', mode);
    try {
      writeFileSync(fd, text);
      fsyncSync(fd);
    } finally {
      closeSync(fd);
    }
    renameSync(temporary, file);
  } catch (error) {
    rmSync(temporary, { force: true });
    throw error;
  }
}
