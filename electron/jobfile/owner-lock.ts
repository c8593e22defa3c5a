import {
  mkdirSync,
  readFileSync,
  rmdirSync,
  rmSync,
  statSync,
  utimesSync,
  writeFileSync,
} from 'node:fs';
import { hostname } from 'node:os';
import { z } from 'zod';
import { fail, ok, type Result } from '../../core/result.ts';
import { errorText } from '../error-text.ts';
import { processLives } from './process-lives.ts';
import type { Refusal } from './types.ts';

/**
 * One program at a time has a job open. The owner is named in a file beside it, with a heartbeat;
 * SQLite's own lock (a folder `.lock`, made by its file layer for this runtime) says nothing of who
 * made it and stays behind after a pulled plug, so it is only trusted while the owner lives.
 */
const HEARTBEAT_MS = 5_000;
/** An owner on another machine is dead when its heartbeat is older than this. */
const DEAD_AFTER_MS = 60_000;
/** Taking a file is a matter of milliseconds: what holds it up for longer was killed on the way. */
const TAKING_MS = 10_000;

/** What a file is taken for: to work on it, or to read it once and let go. */
export type Purpose = 'work' | 'read';

const ownerSchema = z.object({
  pid: z.number().int().positive(),
  host: z.string(),
  purpose: z.enum(['work', 'read']).default('work'),
});
type Owner = z.infer<typeof ownerSchema>;

export interface OwnerLock {
  release(): void;
}

/** Why the file is not given: who has it. */
function lockedBy(owner: Owner | undefined): Refusal {
  if (owner === undefined) {
    return { code: 'LOCKED', detail: 'another program of ours is just opening it; try again' };
  }
  const where =
    owner.host === hostname()
      ? `process ${owner.pid} on this computer`
      : `process ${owner.pid} on the computer ${owner.host}`;
  return owner.purpose === 'read'
    ? { code: 'LOCKED', passing: true, detail: `a headless verb is reading it (${where})` }
    : { code: 'LOCKED', detail: `it is open in another window of this program (${where})` };
}

/** Milliseconds since a file was touched; null when it is not there. */
function ageOf(path: string): number | null {
  const stat = statSync(path, { throwIfNoEntry: false });
  return stat === undefined ? null : Date.now() - stat.mtimeMs;
}

/** Who wrote the owner file; undefined for one that was cut off or is not ours. */
function readOwner(path: string): Owner | undefined {
  try {
    return ownerSchema.safeParse(JSON.parse(readFileSync(path, 'utf8'))).data;
  } catch {
    return undefined;
  }
}

/**
 * Whether somebody alive has the file. On this machine the process itself is asked for: a lid that
 * was shut for an hour stops its heartbeat, not its life. Elsewhere only the heartbeat tells.
 */
function isOwned(path: string): boolean {
  const age = ageOf(path);
  if (age === null) return false;
  const owner = readOwner(path);
  if (owner?.host === hostname()) return processLives(owner.pid, Date.now() - age);
  return age <= DEAD_AFTER_MS;
}

/** Runs `act` while nobody else takes this file: making a folder succeeds for one only. */
function alone<T>(file: string, act: () => Result<T, Refusal>): Result<T, Refusal> {
  const gate = `${file}.taking`;
  const age = ageOf(gate);
  // Of a future that the clock has not reached, since it was set back, is as old.
  if (age !== null && Math.abs(age) > TAKING_MS) rmdirSync(gate);
  try {
    mkdirSync(gate);
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'EEXIST')
      return fail({ ...lockedBy(undefined), passing: true });
    throw error;
  }
  try {
    return act();
  } finally {
    rmdirSync(gate);
  }
}

/**
 * Takes the file for this process, clearing what a dead owner left.
 *
 * @param file path of the job file
 */
export function takeOwnership(file: string, purpose: Purpose = 'work'): Result<OwnerLock, Refusal> {
  const path = `${file}.owner`;
  try {
    return alone(file, () => {
      if (isOwned(path)) return fail(lockedBy(readOwner(path)));
      writeFileSync(path, JSON.stringify({ pid: process.pid, host: hostname(), purpose }));
      // Nobody lives who could hold SQLite's own lock: it was left by a pulled plug.
      rmSync(`${file}.lock`, { recursive: true, force: true });
      return ok(keep(path));
    });
  } catch (error) {
    const why = errorText(error);
    const detail = `its folder cannot be written to, which opening needs; copy it to one that can (${why})`;
    return fail({ code: 'IO', detail });
  }
}

/** Keeps the heartbeat going until the lock is released. */
function keep(path: string): OwnerLock {
  const beat = setInterval(() => {
    const now = new Date();
    try {
      utimesSync(path, now, now);
    } catch {
      // The file layer will say so itself when the folder is gone.
    }
  }, HEARTBEAT_MS);
  beat.unref();
  return {
    release() {
      clearInterval(beat);
      rmSync(path, { force: true });
    },
  };
}
