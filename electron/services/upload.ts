import { randomUUID } from 'node:crypto';
import { appendFileSync, mkdirSync, readdirSync, rmSync, statSync } from 'node:fs';
import { join } from 'node:path';

const PART_SUFFIX = '.part';
/** The most a job file brought in from outside may take, bytes. */
const MAX_BYTES = 4 * 1024 ** 3;
/** Uploads that may be under way at once; the oldest is given up for a new one. */
const MAX_UPLOADS = 4;
/** A piece untouched for this long belongs to nobody: not to another window of the program either. */
const ABANDONED_MS = 24 * 3600 * 1000;

/** Files that come in pieces, kept aside until they are whole. */
export interface Uploads {
  /**
   * Adds a piece.
   *
   * @throws Error when it is too much or the disk says no; the upload is then given up
   */
  add(upload: string, base64: string): void;
  /** The path of what has come, which now belongs to the caller; null where nothing has. */
  take(upload: string): string | null;
}

/** @param folder where the pieces are kept; rests of an earlier run are removed */
export function createUploads(folder: string): Uploads {
  mkdirSync(folder, { recursive: true });
  for (const name of readdirSync(folder)) {
    if (name.endsWith(PART_SUFFIX) && isAbandoned(join(folder, name))) {
      rmSync(join(folder, name), { force: true });
    }
  }
  const paths = new Map<string, string>();

  const giveUp = (upload: string): void => {
    const path = paths.get(upload);
    if (path !== undefined) rmSync(path, { force: true });
    paths.delete(upload);
  };

  return {
    add(upload, base64) {
      let path = paths.get(upload);
      if (path === undefined) {
        const [oldest] = paths.keys();
        if (paths.size >= MAX_UPLOADS && oldest !== undefined) giveUp(oldest);
        path = join(folder, `${randomUUID()}${PART_SUFFIX}`);
        paths.set(upload, path);
      }
      try {
        appendFileSync(path, Buffer.from(base64, 'base64'));
        if (statSync(path).size > MAX_BYTES) throw new Error('the file is too large for a job');
      } catch (error) {
        giveUp(upload);
        throw error;
      }
    },
    take(upload) {
      const path = paths.get(upload) ?? null;
      paths.delete(upload);
      return path;
    },
  };
}

function isAbandoned(path: string): boolean {
  const stat = statSync(path, { throwIfNoEntry: false });
  return stat !== undefined && Date.now() - stat.mtimeMs > ABANDONED_MS;
}
