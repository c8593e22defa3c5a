import { spawnSync } from 'node:child_process';
import {
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  rmSync,
  utimesSync,
  writeFileSync,
} from 'node:fs';
import { hostname, tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { takeOwnership } from '../../../../electron/jobfile/owner-lock.ts';
import { processLives } from '../../../../electron/jobfile/process-lives.ts';

let folder: string;
let file: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'stillpoint-owner-'));
  file = join(folder, 'job.stillpoint');
});
afterEach(() => {
  rmSync(folder, { recursive: true, force: true });
});

const HOUR_MS = 3_600_000;

function leaveOwner(owner: { pid: number; host: string }, ageMs: number): void {
  writeFileSync(`${file}.owner`, JSON.stringify(owner));
  const then = new Date(Date.now() - ageMs);
  utimesSync(`${file}.owner`, then, then);
}

/** A process number that was just in use and is free now. */
function deadPid(): number {
  return spawnSync(process.execPath, ['-e', '']).pid;
}

describe('takeOwnership', () => {
  it('gives the file to one and leaves nothing behind', () => {
    const first = takeOwnership(file);
    expect(takeOwnership(file)).toMatchObject({ ok: false, error: { code: 'LOCKED' } });
    if (first.ok) first.value.release();
    expect(readdirSync(folder)).toEqual([]);
  });

  it('takes over at once from a process of this machine that is dead, with the lock it left', () => {
    leaveOwner({ pid: deadPid(), host: hostname() }, 0);
    mkdirSync(`${file}.lock`);
    const taken = takeOwnership(file);
    expect(taken.ok).toBe(true);
    expect(existsSync(`${file}.lock`)).toBe(false);
    if (taken.ok) taken.value.release();
  });

  it('does not take from a living process whose heartbeat stood still, as behind a shut lid', () => {
    // The process that runs this one has begun before it, whatever else is so.
    leaveOwner({ pid: process.ppid, host: hostname() }, 0);
    expect(takeOwnership(file)).toMatchObject({ ok: false, error: { code: 'LOCKED' } });
    expect(processLives(process.pid, Date.now())).toBe(true);
  });

  it('does not take a living stranger for the owner whose number it was given', () => {
    // This process did not live a year ago: whoever wrote the file had its number before.
    leaveOwner({ pid: process.pid, host: hostname() }, 365 * 24 * HOUR_MS);
    const taken = takeOwnership(file);
    expect(taken.ok).toBe(existsSync('/proc/self/stat'));
    if (taken.ok) taken.value.release();
  });

  it('says who has the file, and whether for a moment only', () => {
    const window = takeOwnership(file);
    const refused = takeOwnership(file);
    const here = `process ${process.pid} on this computer`;
    expect(refused).toEqual({
      ok: false,
      error: { code: 'LOCKED', detail: `it is open in another window of this program (${here})` },
    });
    if (window.ok) window.value.release();
    const verb = takeOwnership(file, 'read');
    expect(takeOwnership(file)).toMatchObject({
      error: { passing: true, detail: `a headless verb is reading it (${here})` },
    });
    if (verb.ok) verb.value.release();
    leaveOwner({ pid: 7, host: `not-${hostname()}` }, 0);
    const elsewhere = takeOwnership(file);
    expect(!elsewhere.ok && elsewhere.error.detail).toContain(
      `process 7 on the computer not-${hostname()}`,
    );
  });

  it('waits for the heartbeat of another machine to grow old', () => {
    leaveOwner({ pid: 1, host: `not-${hostname()}` }, 10_000);
    expect(takeOwnership(file)).toMatchObject({ ok: false, error: { code: 'LOCKED' } });
    leaveOwner({ pid: 1, host: `not-${hostname()}` }, 120_000);
    const taken = takeOwnership(file);
    expect(taken.ok).toBe(true);
    if (taken.ok) taken.value.release();
  });

  it.each([
    ['long ago', -60_000],
    ['before the clock was set back', 60_000],
  ])('is held off while another takes the file, not by one who was killed at it %s', (_, ms) => {
    mkdirSync(`${file}.taking`);
    expect(takeOwnership(file)).toMatchObject({ ok: false, error: { code: 'LOCKED' } });
    const then = new Date(Date.now() + ms);
    utimesSync(`${file}.taking`, then, then);
    const taken = takeOwnership(file);
    expect(taken.ok).toBe(true);
    if (taken.ok) taken.value.release();
    expect(readdirSync(folder)).toEqual([]);
  });

  it('says what to do where the folder cannot be written to', () => {
    const refused = takeOwnership(join(folder, 'no such folder', 'job.stillpoint'));
    expect(refused).toMatchObject({ ok: false, error: { code: 'IO' } });
    if (!refused.ok) expect(refused.error.detail).toContain('copy it to one that can');
  });
});
