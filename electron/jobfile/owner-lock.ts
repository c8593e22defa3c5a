import { readFileSync, rmSync, statSync, utimesSync, writeFileSync } from 'node:fs';
import { hostname } from 'node:os';
import { z } from 'zod';
import { fail, ok, type Result } from '../../core/result.ts';
import type { Refusal } from './types.ts';

/**
 * One program at a time has a job open for writing. The owner is named in a file beside it, with
 * a heartbeat; SQLite's own lock (a folder `.lock`, made by its file layer for this runtime) says
 * nothing of who made it and stays behind after a pulled plug, so it is only trusted while the
 * owner lives.
 */
const HEARTBEAT_MS = 5_000;
/** An owner on another machine, or whose process number was used again, is dead after this. */
const DEAD_AFTER_MS = 60_000;

const ownerSchema = z.object({ pid: z.number().int().positive(), host: z.string() });

export interface OwnerLock {
  release(): void;
}

function ownerPath(file: string): string {
  return `${file}.owner`;
}

function processLives(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return (error as NodeJS.ErrnoException).code === 'EPERM';
  }
}

/** Whether somebody alive has the file. An owner file that cannot be read counts by its age. */
function isOwned(file: string): boolean {
  const path = ownerPath(file);
  let age: number;
  let text: string;
  try {
    age = Date.now() - statSync(path).mtimeMs;
    text = readFileSync(path, 'utf8');
  } catch {
    return false;
  }
  if (age > DEAD_AFTER_MS) return false;
  let owner: z.infer<typeof ownerSchema> | undefined;
  try {
    owner = ownerSchema.safeParse(JSON.parse(text)).data;
  } catch {
    owner = undefined;
  }
  if (owner?.host !== hostname()) return true;
  return processLives(owner.pid);
}

/**
 * Takes the file for this process, clearing what a dead owner left.
 *
 * @param file path of the job file
 */
export function takeOwnership(file: string): Result<OwnerLock, Refusal> {
  const path = ownerPath(file);
  if (isOwned(file)) {
    return fail({
      code: 'LOCKED',
      detail: 'it is open in another window of this program, here or on another machine',
    });
  }
  try {
    rmSync(path, { force: true });
    writeFileSync(path, JSON.stringify({ pid: process.pid, host: hostname() }), { flag: 'wx' });
  } catch (error) {
    const code = (error as NodeJS.ErrnoException).code;
    if (code === 'EEXIST') return fail({ code: 'LOCKED', detail: 'it is being opened elsewhere' });
    return fail({ code: 'IO', detail: error instanceof Error ? error.message : String(error) });
  }
  // Nobody lives who could hold SQLite's own lock: it was left by a pulled plug.
  rmSync(`${file}.lock`, { recursive: true, force: true });
  const beat = setInterval(() => {
    const now = new Date();
    try {
      utimesSync(path, now, now);
    } catch {
      // The file layer will say so itself when the folder is gone.
    }
  }, HEARTBEAT_MS);
  beat.unref();
  return ok({
    release() {
      clearInterval(beat);
      rmSync(path, { force: true });
    },
  });
}
