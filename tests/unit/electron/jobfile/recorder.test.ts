import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sqlite from 'node-sqlite3-wasm';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { Sample } from '../../../../core/stream/sample.ts';
import { openDatabase } from '../../../../electron/jobfile/database.ts';
import { createJobFile } from '../../../../electron/jobfile/job-file.ts';
import { SqliteRecorder } from '../../../../electron/jobfile/recorder.ts';
import { CREATE_SQL } from '../../../../electron/jobfile/schema.ts';
import { testHead, testSession, testUnit } from '../../../support/job.ts';

const by = { author: 'Test person', at: '2026-03-01T09:00:00Z' };
let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'stillpoint-recorder-'));
});
afterEach(() => {
  rmSync(folder, { recursive: true, force: true });
});

const pressure = (t: number): Sample => ({ channel: 'suctionPressure', t, value: 9e5 });

describe('a recording', () => {
  const bad: readonly [string, Sample][] = [
    ['a time that is no number', pressure(NaN)],
    ['a value that is no number', { ...pressure(2), value: NaN }],
    ['a value without end', { ...pressure(2), value: Infinity }],
    ['a sequence number that is not whole', { ...pressure(2), seq: 1.5 }],
    ['a device time that is no number', { ...pressure(2), deviceTime_s: NaN }],
  ];

  it.each(bad)('refuses %s with the whole of its batch, and goes on', (_, sample) => {
    const made = createJobFile(join(folder, 'job.stillpoint'), testHead(), [testUnit()], by);
    if (!made.ok) throw new Error(made.error.detail);
    const job = made.value;
    const recorder = job.startSession(testSession(), by);
    recorder.append('A', [pressure(1)]);
    expect(() => {
      recorder.append('A', [pressure(2), sample]);
    }).toThrow(RangeError);
    recorder.append('A', [pressure(3)]);
    recorder.end(by);
    expect([...job.samples('session-1', 'A')].flat()).toEqual([pressure(1), pressure(3)]);
    job.close();
  });

  it('keeps a counter of four bytes', () => {
    const made = createJobFile(join(folder, 'job.stillpoint'), testHead(), [testUnit()], by);
    if (!made.ok) throw new Error(made.error.detail);
    const recorder = made.value.startSession(testSession(), by);
    const sample: Sample = { ...pressure(1), seq: 0xffff_ffff };
    recorder.append('A', [sample]);
    recorder.end(by);
    expect([...made.value.samples('session-1', 'A')].flat()).toEqual([sample]);
    made.value.close();
  });

  it('loses nothing of what a full disk refused, once there is room again', () => {
    const made = new sqlite.Database(join(folder, 'db'));
    made.exec(CREATE_SQL);
    made.exec("INSERT INTO session (id, body) VALUES ('s', '{}')");
    made.close();
    const db = openDatabase(join(folder, 'db'));
    const recorder = new SqliteRecorder({
      db,
      sessionId: 's',
      units: ['A'],
      before: () => [],
      onEnd: () => undefined,
    });
    const samples = Array.from({ length: 2000 }, (_, i) => pressure(i));
    const pages = db.get('PRAGMA page_count') as { page_count: number };
    db.exec(`PRAGMA max_page_count = ${pages.page_count + 2}`);
    recorder.append('A', samples);
    expect(() => {
      recorder.flush();
    }).toThrow(/full/);
    expect(db.get('SELECT count(*) AS n FROM sample')).toEqual({ n: 0 });
    db.exec('PRAGMA max_page_count = 100000');
    expect(recorder.mark('A').sampleCount).toBe(2000);
    expect(db.get('SELECT count(*) AS n, sum(t) AS t FROM sample')).toEqual({
      n: 2000,
      t: 1999 * 1000,
    });
    recorder.release();
    db.close();
  });
});
