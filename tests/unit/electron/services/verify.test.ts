import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sqlite from 'node-sqlite3-wasm';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { createEngine } from '../../../../core/engine.ts';
import { createJobFile, openJobFile } from '../../../../electron/jobfile/job-file.ts';
import { firstDifference } from '../../../../electron/services/first-difference.ts';
import { verifySessions } from '../../../../electron/services/verify-sessions.ts';
import { verifyJob } from '../../../../electron/services/verify.ts';
import { testHead, testSession, testUnit } from '../../../support/job.ts';
import { drawnSession, testConfig } from '../../../support/session.ts';

const by = { author: 'Test person', at: '2026-03-01T09:00:00Z' };
let folder: string;
let path: string;

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'stillpoint-verify-'));
  path = join(folder, 'job.stillpoint');
});
afterEach(() => {
  rmSync(folder, { recursive: true, force: true });
});

/** Records a session live, with a snapshot after each of the given numbers of samples. */
function record(at: readonly number[]): void {
  const made = createJobFile(path, testHead(), [testUnit()], by);
  if (!made.ok) throw new Error(made.error.detail);
  const job = made.value;
  const recorder = job.startSession(testSession(), by);
  const config = testConfig();
  const engine = createEngine(config);
  const samples = drawnSession({
    seed: 5,
    duration: 400,
    rate: 1,
    tau: 60,
    start: 10,
    noise: 0.2,
  });
  samples.forEach((sample, i) => {
    recorder.append('A', [sample]);
    engine.push([sample]);
    if (!at.includes(i + 1)) return;
    const content = engine.snapshot();
    if (!content.ok) throw new Error(content.error.code);
    job.addSnapshot({
      id: `snap-${i + 1}`,
      sessionId: 'session-1',
      unit: 'A',
      takenAt: by.at,
      label: `after ${i + 1}`,
      note: '',
      author: by.author,
      sourceKind: 'simulated',
      programVersion: '0.0.0',
      config,
      content: content.value,
      ...recorder.mark('A'),
    });
  });
  recorder.end(by);
  job.close();
}

function verify() {
  const job = openJobFile(path);
  if (!job.ok) throw new Error(job.error.detail);
  const rows = verifyJob(job.value);
  job.value.close();
  return rows;
}

/** Changes the file as someone could who means to: around the program and its triggers. */
function tamper(sql: string): void {
  const db = new sqlite.Database(path);
  db.exec('DROP TRIGGER sample_no_update; DROP TRIGGER snapshot_no_update;');
  db.exec('DROP TRIGGER sample_no_delete;');
  db.exec(sql);
  db.close();
}

describe('verifyJob', () => {
  it('comes to the same numbers to the last bit from the file alone', () => {
    record([700, 1203, 1204, 1999]);
    const rows = verify();
    expect(rows.map((row) => row.label)).toEqual([
      'after 700',
      'after 1203',
      'after 1204',
      'after 1999',
    ]);
    for (const row of rows) {
      expect(row).toMatchObject({ samplesAgree: true, numbersAgree: true, detail: null });
    }
  });

  it('tells which snapshots came after a sample that was changed in its last bits', () => {
    record([700, 1203]);
    tamper('UPDATE sample SET value = value * 1.0000000001 WHERE ordinal = 1000');
    const [before, after] = verify();
    expect(before).toMatchObject({ samplesAgree: true, numbersAgree: true });
    expect(after).toMatchObject({ samplesAgree: false });
    expect(after?.detail).toContain('the samples are not those');
  });

  it('tells that a number of a snapshot was changed, and which', () => {
    record([1203]);
    tamper(`UPDATE snapshot SET body =
      json_set(body, '$.content.figures.superheat.value', 5.555555)`);
    const [row] = verify();
    expect(row).toMatchObject({ samplesAgree: true, numbersAgree: false });
    expect(row?.detail).toContain('figures.superheat.value is 5.555555 in the record');
  });

  it('tells that samples are missing', () => {
    record([700, 1203]);
    tamper('DELETE FROM sample WHERE ordinal > 1200');
    const [before, after] = verify();
    expect(before).toMatchObject({ samplesAgree: true, numbersAgree: true });
    expect(after).toMatchObject({ samplesAgree: false, numbersAgree: false });
    expect(after?.detail).toContain('only 1200 are there');
  });
});

describe('verifySessions', () => {
  const seals = () => {
    const job = openJobFile(path);
    if (!job.ok) throw new Error(job.error.detail);
    const rows = verifySessions(job.value);
    job.value.close();
    return rows;
  };

  it('finds a sample changed or lost after the session had ended, without any snapshot', () => {
    record([]);
    expect(seals()).toEqual([
      { session: 'session-1', unit: 'A', samplesAgree: true, detail: null },
    ]);
    tamper('UPDATE sample SET value = value * 1.0000000001 WHERE ordinal = 1000');
    expect(seals()[0]).toMatchObject({ samplesAgree: false });
    expect(seals()[0]?.detail).toContain('changed');
  });

  it('counts them', () => {
    record([]);
    tamper('DELETE FROM sample WHERE ordinal > 1200');
    expect(seals()[0]?.detail).toContain('1200 are there');
  });

  it('seals a session that broke off as it is', () => {
    const made = createJobFile(path, testHead(), [testUnit()], by);
    if (!made.ok) throw new Error(made.error.detail);
    const recorder = made.value.startSession(testSession(), by);
    recorder.append('A', [{ channel: 'vacuum', t: 0, value: 3 }]);
    recorder.release();
    expect(verifySessions(made.value)).toEqual([]);
    made.value.sealSession('session-1', by);
    expect(verifySessions(made.value)).toMatchObject([{ samplesAgree: true }]);
    made.value.close();
  });
});

describe('firstDifference', () => {
  it('sees one bit, an absent field and another length, and nothing else', () => {
    const value = { a: [{ b: 0.1 + 0.2 }], c: undefined };
    expect(firstDifference(value, { a: [{ b: 0.1 + 0.2 }] })).toBeNull();
    expect(firstDifference(value, { a: [{ b: 0.3 }] })).toContain('a.0.b is 0.30000000000000004');
    expect(firstDifference(value, { a: [{ b: 0.1 + 0.2 }, 1] })).toContain('a.1 is absent');
    expect(firstDifference({ a: [] }, { a: {} })).toContain('a is []');
  });
});
