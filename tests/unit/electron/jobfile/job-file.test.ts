import { createHash } from 'node:crypto';
import {
  copyFileSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  truncateSync,
  utimesSync,
  writeFileSync,
} from 'node:fs';
import { hostname, tmpdir } from 'node:os';
import { join } from 'node:path';
import fc from 'fast-check';
import sqlite from 'node-sqlite3-wasm';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { CHANNEL_KEYS } from '../../../../core/stream/channels.ts';
import { GAP_REASONS, type Sample } from '../../../../core/stream/sample.ts';
import { createJobFile, openJobFile } from '../../../../electron/jobfile/job-file.ts';
import type { JobFile } from '../../../../electron/jobfile/types.ts';
import { testAnswers, testHead, testSession, testUnit } from '../../../support/job.ts';

const by = { author: 'Test person', at: '2026-03-01T09:00:00Z' };
let folder: string;
let path: string;

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'stillpoint-job-'));
  path = join(folder, 'job.stillpoint');
});
afterEach(() => {
  rmSync(folder, { recursive: true, force: true });
});

function create(): JobFile {
  const job = createJobFile(path, testHead(), [testUnit()], by);
  if (!job.ok) throw new Error(job.error.detail);
  return job.value;
}

function open(): JobFile {
  const job = openJobFile(path);
  if (!job.ok) throw new Error(job.error.detail);
  return job.value;
}

const hashOf = (file: string): string =>
  createHash('sha256').update(readFileSync(file)).digest('hex');

/** Opens what must be refused, and proves that nothing beside or in it was changed. */
function refusal() {
  const before = [hashOf(path), ...readdirSync(folder)];
  const job = openJobFile(path);
  expect([hashOf(path), ...readdirSync(folder)]).toEqual(before);
  return job.ok ? null : job.error;
}

describe('a job file', () => {
  it('reads a unit written before its compressor and its maker’s chart were asked for', () => {
    create().close();
    const db = new sqlite.Database(path);
    db.exec("UPDATE unit SET body = json_remove(body, '$.maker', '$.nameplate.displacement_m3_s')");
    db.close();
    const again = open();
    expect(again.units()).toEqual([testUnit()]);
    again.close();
  });

  it('gives back what was put in, after closing and opening', () => {
    const job = create();
    const maker = {
      superheat: { value: 6, u: 1 },
      at: { outdoorAir: 308.15, returnAir: null, returnWetBulb: 292.6 },
    };
    const unit = testUnit({ key: 'B', name: 'South unit', minimumRun_s: 900, maker });
    job.saveUnit(unit, by);
    job.updateHead(testHead({ complaint: 'Ice on the suction line.' }), by);
    const finding = { id: 'f1', unit: 'A', kind: 'icedCoil', text: 'Solid.', ...by } as const;
    job.addFinding(finding);
    job.addNote({ id: 'n1', text: 'Filter changed.', ...by });
    job.close();
    const again = open();
    expect(again.head()).toEqual(testHead({ complaint: 'Ice on the suction line.' }));
    expect(again.units()).toEqual([testUnit(), unit]);
    expect(again.findings()).toEqual([finding]);
    expect(again.notes()).toEqual([{ id: 'n1', text: 'Filter changed.', ...by }]);
    expect(again.log().map((entry) => entry.what)).toEqual([
      'job.created',
      'unit.saved',
      'job.updated',
      'finding.added',
      'note.added',
    ]);
    again.close();
  });

  it('keeps the latest answers of a unit, and the log all of them', () => {
    const job = create();
    const first = testAnswers({ airflow: 'attested' });
    const later = testAnswers({
      airflow: 'measured',
      flow_m3_s: 0.47,
      outcomes: [{ check: 'drierDrop', outcome: 'none' }],
    });
    job.saveAnswers({ unit: 'A', answers: first, ...by });
    job.saveAnswers({ unit: 'B', answers: first, ...by });
    job.saveAnswers({ unit: 'A', answers: later, ...by });
    job.close();
    const again = open();
    expect(again.answers()).toEqual([
      { unit: 'A', answers: later, ...by },
      { unit: 'B', answers: first, ...by },
    ]);
    expect(again.log().at(-1)).toMatchObject({
      what: 'answers.saved',
      detail: { unit: 'A', before: first, after: later },
    });
    const odd = { ...first, flow_m3_s: -1 };
    expect(() => again.saveAnswers({ unit: 'A', answers: odd, ...by })).toThrow(/flow_m3_s/);
    again.close();
  });

  it('keeps every word of a reviewer beside the snapshots, and none can be changed', () => {
    const job = create();
    const query = {
      id: 'r1',
      snapshot: 's1',
      verdict: 'queried',
      text: 'Was the door shut?',
      ...by,
    } as const;
    const accept = { ...query, id: 'r2', verdict: 'accepted', text: '' } as const;
    job.addReview(query);
    job.addReview(accept);
    expect(() => job.addReview({ ...query, id: 'r3', text: ' ' })).toThrow(/needs its reason/);
    job.close();
    const again = open();
    expect(again.reviews()).toEqual([query, accept]);
    again.close();
    const db = new sqlite.Database(path);
    expect(() => db.exec("UPDATE review SET body = '{}'")).toThrow(/added to, not changed/);
    expect(() => db.exec('DELETE FROM review')).toThrow(/added to, not changed/);
    db.close();
  });

  it('opens a file written before answers and reviews were kept, and adds them when needed', () => {
    create().close();
    const db = new sqlite.Database(path);
    db.exec('DROP TABLE answers; DROP TABLE review');
    db.close();
    const before = hashOf(path);
    const looked = open();
    expect([looked.answers(), looked.reviews()]).toEqual([[], []]);
    looked.close();
    expect(hashOf(path)).toBe(before);
    const job = open();
    job.saveAnswers({ unit: 'A', answers: testAnswers(), ...by });
    job.addReview({ id: 'r1', snapshot: 's1', verdict: 'accepted', text: '', ...by });
    job.close();
    const again = open();
    expect(again.answers()).toHaveLength(1);
    expect(again.reviews()).toHaveLength(1);
    again.close();
  });

  it('never overwrites a file', () => {
    writeFileSync(path, 'mine');
    const job = createJobFile(path, testHead(), [testUnit()], by);
    expect(job).toMatchObject({ ok: false, error: { code: 'EXISTS' } });
    expect(readFileSync(path, 'utf8')).toBe('mine');
  });

  it('is not made beside the log that a deleted job left, which would write itself into it', () => {
    const old = create();
    old.addNote({ id: 'n1', text: 'Of the old job.', ...by });
    copyFileSync(`${path}-wal`, join(folder, 'kept'));
    old.close();
    rmSync(path);
    copyFileSync(join(folder, 'kept'), `${path}-wal`);
    const job = createJobFile(path, testHead({ id: 'job-2' }), [testUnit()], by);
    expect(job).toMatchObject({ ok: false, error: { code: 'EXISTS' } });
    expect(existsSync(`${path}-wal`)).toBe(true);
    expect(existsSync(`${path}.owner`)).toBe(false);
  });

  it('seals a session that broke off, once, and none that is being recorded', () => {
    const job = create();
    const recorder = job.startSession(testSession(), by);
    recorder.append('A', [{ channel: 'suctionPressure', t: 1, value: 9e5 }]);
    expect(() => {
      job.sealSession('session-1', by);
    }).toThrow(/being recorded/);
    recorder.release();
    job.sealSession('session-1', by);
    const again = [
      () => {
        job.sealSession('session-1', { ...by, at: '2026-03-02T09:00:00Z' });
      },
      () => job.resumeSession('session-1', by),
    ];
    for (const act of again) expect(act).toThrow('session session-1 has ended');
    expect(job.sessions()[0]?.session.endedAt).toBe(by.at);
    const [seal] = job.log().filter((entry) => entry.what === 'session.sealed');
    expect(seal?.detail).toMatchObject({
      streams: [{ unit: 'A', sampleCount: 1, sampleHash: job.sampleHash('session-1', 'A', 1) }],
    });
    job.close();
  });

  it('takes nothing in that it could not read back', () => {
    const job = create();
    const nowhere = testHead({ site: { name: 'x', address: '', altitude_m: NaN } });
    expect(() => {
      job.updateHead(testHead({ createdAt: 'yesterday' }), by);
    }).toThrow('the head of the job does not fit at createdAt');
    expect(() => {
      job.saveUnit(testUnit({ minimumRun_s: -1 }), by);
    }).toThrow('unit A does not fit at minimumRun_s');
    expect(() => {
      job.addNote({ id: 'n1', text: 'x'.repeat(20_001), ...by });
    }).toThrow('the note does not fit at text');
    expect(() => {
      job.addFinding({ id: 'f1', unit: 'A', kind: 'other', text: 'x'.repeat(5001), ...by });
    }).toThrow('the finding does not fit at text');
    expect(() => job.startSession({ ...testSession(), origin: '' }, by)).toThrow(
      'the session does not fit at origin',
    );
    expect(job.log().length).toBe(1);
    job.close();
    open().close();
    rmSync(path);
    expect(createJobFile(path, { ...nowhere, title: '' }, [], by)).toMatchObject({
      ok: false,
      error: { detail: expect.stringContaining('the head of the job') as string },
    });
    expect(readdirSync(folder)).toEqual([]);
  });

  it('leaves no session behind that could not be begun beside another', () => {
    const job = create();
    job.startSession(testSession(), by);
    expect(() => job.startSession(testSession({ id: 'session-2' }), by)).toThrow(/already/);
    expect(() => job.resumeSession('session-1', by)).toThrow(/already/);
    expect(job.sessions().map(({ session }) => session.id)).toEqual(['session-1']);
    expect(job.log().map((entry) => entry.what)).toEqual(['job.created', 'session.started']);
    job.close();
  });

  it('is made over what a plug pulled in the making of one of its name has left', () => {
    writeFileSync(`${path}.part`, 'half a page');
    writeFileSync(`${path}.part-journal`, 'half a journal');
    mkdirSync(`${path}.part.lock`);
    create().close();
    expect(readdirSync(folder)).toEqual(['job.stillpoint']);
    open().close();
  });

  it('keeps any sample to the last bit, in order of arrival', () => {
    const number = fc.double({ noNaN: true, noDefaultInfinity: true });
    const extras = {
      channel: fc.constantFrom(...CHANNEL_KEYS),
      t: number,
      seq: fc.option(fc.integer({ min: 0, max: 65_535 }), { nil: undefined }),
      deviceTime_s: fc.option(number, { nil: undefined }),
    };
    const bare = (o: Record<string, unknown>): Sample =>
      Object.fromEntries(Object.entries(o).filter(([, v]) => v !== undefined)) as unknown as Sample;
    const sample = fc.oneof(
      fc.record({ ...extras, value: number }).map(bare),
      fc
        .record({ ...extras, value: fc.constant(null), why: fc.constantFrom(...GAP_REASONS) })
        .map(bare),
    );
    const job = create();
    let n = 0;
    fc.assert(
      fc.property(fc.array(sample, { minLength: 1, maxLength: 50 }), (samples) => {
        n += 1;
        const session = testSession({ id: `s${n}` });
        const recorder = job.startSession(session, by);
        recorder.append('A', samples);
        const mark = recorder.mark('A');
        recorder.end(by);
        const back = [...job.samples(session.id, 'A')].flat();
        expect(back).toEqual(samples.map((s) => JSON.parse(JSON.stringify(s)) as Sample));
        expect(mark.sampleCount).toBe(samples.length);
        expect(job.sampleHash(session.id, 'A', samples.length)).toBe(mark.sampleHash);
        expect(job.sampleHash(session.id, 'A', samples.length + 1)).toBeNull();
      }),
      { numRuns: 60 },
    );
    job.close();
  });

  it('tells by the hash when any part of a sample was changed', () => {
    const base: Sample = { channel: 'suctionPressure', t: 1, value: 2, seq: 3, deviceTime_s: 4 };
    const others: Sample[] = [
      { ...base, channel: 'liquidPressure' },
      { ...base, t: 1.0000001 },
      { ...base, value: 2.0000001 },
      { ...base, seq: 4 },
      { ...base, deviceTime_s: 5 },
      { channel: 'suctionPressure', t: 1, value: 2 },
      { channel: 'suctionPressure', t: 1, value: null, why: 'lost' },
      { channel: 'suctionPressure', t: 1, value: null, why: 'silent' },
    ];
    const job = create();
    const hashes = [base, ...others].map((sample, i) => {
      const recorder = job.startSession(testSession({ id: `s${i}` }), by);
      recorder.append('A', [sample]);
      const { sampleHash } = recorder.mark('A');
      recorder.end(by);
      return sampleHash;
    });
    expect(new Set(hashes).size).toBe(hashes.length);
    job.close();
  });

  it('has a log and samples that cannot be changed', () => {
    create().close();
    const db = new sqlite.Database(path);
    expect(() => db.exec("UPDATE log SET author = 'x'")).toThrow(/added to, not changed/);
    expect(() => db.exec('DELETE FROM log')).toThrow(/added to, not changed/);
    db.close();
  });

  it('keeps its own numbers of channels: one from before a channel was added takes it up', () => {
    create().close();
    const db = new sqlite.Database(path);
    // As a program wrote it whose table had two channels only, and in another order.
    db.exec("DELETE FROM channel; INSERT INTO channel VALUES (1, 'vacuum'), (7, 'liquidPressure')");
    db.close();
    const samples = CHANNEL_KEYS.map((channel, i): Sample => ({ channel, t: i, value: i }));
    const job = open();
    const recorder = job.startSession(testSession(), by);
    recorder.append('A', samples);
    recorder.end(by);
    expect([...job.samples('session-1', 'A')].flat()).toEqual(samples);
    job.close();
  });

  it('is not changed by looking into it', () => {
    create().close();
    const before = hashOf(path);
    const job = open();
    job.log();
    job.close();
    expect(hashOf(path)).toBe(before);
    expect(readdirSync(folder)).toEqual(['job.stillpoint']);
  });

  it('is for one owner at a time', () => {
    const job = create();
    expect(openJobFile(path)).toMatchObject({ ok: false, error: { code: 'LOCKED' } });
    job.close();
    open().close();
  });

  it('is taken over from an owner whose heartbeat stopped, with the lock it left', () => {
    create().close();
    const owner = `${path}.owner`;
    writeFileSync(owner, JSON.stringify({ pid: 1, host: `not-${hostname()}` }));
    expect(openJobFile(path)).toMatchObject({ ok: false, error: { code: 'LOCKED' } });
    const past = new Date(Date.now() - 120_000);
    utimesSync(owner, past, past);
    mkdirSync(`${path}.lock`);
    open().close();
    expect(readdirSync(folder)).toEqual(['job.stillpoint']);
  });
});

describe('what is refused and left untouched', () => {
  it('a file that is not there', () => {
    expect(openJobFile(path)).toMatchObject({ ok: false, error: { code: 'NOT_FOUND' } });
    expect(readdirSync(folder)).toEqual([]);
  });

  it('a foreign file', () => {
    writeFileSync(path, 'time[s],suctionPressure[psig]\n'.repeat(20));
    expect(refusal()?.code).toBe('NOT_A_JOB');
  });

  it("another program's database", () => {
    const db = new sqlite.Database(path);
    db.exec('CREATE TABLE a (b)');
    db.close();
    expect(refusal()?.code).toBe('NOT_A_JOB');
  });

  it('an empty file', () => {
    writeFileSync(path, '');
    expect(refusal()?.code).toBe('DAMAGED');
  });

  it('a newer version', () => {
    create().close();
    const db = new sqlite.Database(path);
    db.exec('PRAGMA user_version = 99');
    db.close();
    const refused = refusal();
    expect(refused?.code).toBe('NEWER_VERSION');
    expect(refused?.detail).toContain('99');
  });

  it('a truncated file, wherever it was cut', () => {
    create().close();
    const whole = readFileSync(path);
    for (const part of [0.999, 0.5, 0.1]) {
      writeFileSync(path, whole);
      truncateSync(path, Math.floor(whole.length * part));
      expect(refusal()?.code).toBe('DAMAGED');
    }
  });

  it('a file with damaged pages', () => {
    const job = create();
    const recorder = job.startSession(testSession(), by);
    recorder.append(
      'A',
      Array.from({ length: 3000 }, (_, i) => ({ channel: 'suctionPressure', t: i, value: i })),
    );
    recorder.end(by);
    job.close();
    const bytes = readFileSync(path);
    bytes.fill(0xa5, 4096 * 3, 4096 * 20);
    writeFileSync(path, bytes);
    expect(refusal()?.code).toBe('DAMAGED');
  });

  it('a file beside which the log of another lies', () => {
    const other = create();
    other.addNote({ id: 'n1', text: 'Of another job.', ...by });
    copyFileSync(`${path}-wal`, join(folder, 'kept'));
    other.close();
    rmSync(path);
    create().close();
    renameSync(join(folder, 'kept'), `${path}-wal`);
    expect(refusal()).toMatchObject({
      code: 'DAMAGED',
      detail: expect.stringContaining('job.stillpoint-wal') as string,
    });
  });

  it('a file whose rows are not ours', () => {
    create().close();
    const db = new sqlite.Database(path);
    db.exec(`UPDATE job SET head = '{"title": 5}'`);
    db.close();
    const refused = refusal();
    expect(refused?.code).toBe('DAMAGED');
    expect(refused?.detail).toContain('head of the job');
  });
});
