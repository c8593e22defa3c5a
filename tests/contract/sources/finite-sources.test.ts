import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { Batch, Sample } from '../../../core/stream/sample.ts';
import { createJobFile } from '../../../electron/jobfile/job-file.ts';
import type { JobFile } from '../../../electron/jobfile/types.ts';
import { parseCsv } from '../../../electron/sources/csv.ts';
import { createFileSource } from '../../../electron/sources/file.ts';
import { createManualSource } from '../../../electron/sources/manual.ts';
import { PacedSource } from '../../../electron/sources/paced-source.ts';
import { createReplaySource } from '../../../electron/sources/replay.ts';
import { FakeClock } from '../../support/fake-clock.ts';
import { testHead, testSession, testUnit } from '../../support/job.ts';
import { sourceContract, type SourceRig } from '../source-contract.ts';

const by = { author: 'test', at: '2026-03-01T09:00:00Z' };

/** A rig of a source that needs nothing but its clock. */
function clockRig(make: (clock: FakeClock) => PacedSource, close = () => {}): SourceRig {
  const clock = new FakeClock();
  const source = make(clock);
  return {
    source,
    pass: (ms) => {
      clock.advance(ms);
      return Promise.resolve();
    },
    listeners: () => source.listenerCount(),
    close: () => {
      close();
      return Promise.resolve();
    },
  };
}

function table() {
  const rows = Array.from({ length: 120 }, (_, i) => `${100 + i / 2},${118 + (i % 3)},50`);
  const parsed = parseCsv(
    `time[s],suctionPressure[psig],suctionLineTemp[degF]\n${rows.join('\n')}\n`,
    101_325,
  );
  if (!parsed.ok) throw new Error(parsed.error.detail);
  return parsed.value;
}

/** A job with one recorded minute in which a sample arrived late. */
function recordedJob(): { job: JobFile; samples: Sample[]; close: () => void } {
  const folder = mkdtempSync(join(tmpdir(), 'stillpoint-replay-'));
  const created = createJobFile(join(folder, 'j.stillpoint'), testHead(), [testUnit()], by);
  if (!created.ok) throw new Error(created.error.detail);
  const job = created.value;
  const samples: Sample[] = [];
  for (let i = 0; i < 120; i += 1) {
    samples.push({ channel: 'suctionPressure', t: i / 2, value: 9e5 + i });
    samples.push({ channel: 'liquidPressure', t: Math.max(0, i / 2 - 3), value: 2e6 + i });
  }
  const recorder = job.startSession(testSession(), by);
  recorder.append('A', samples);
  recorder.end(by);
  return {
    job,
    samples,
    close: () => {
      job.close();
      rmSync(folder, { recursive: true, force: true });
    },
  };
}

const replayOf = (job: JobFile, clock: FakeClock, speed = 1) =>
  createReplaySource({
    recording: job,
    sessionId: 'session-1',
    units: ['A'],
    duration: job.sessions()[0]!.duration_s,
    speed,
    clock,
  });

sourceContract('file', () =>
  Promise.resolve(
    clockRig(
      (clock) =>
        createFileSource({ table: table(), unit: 'A', speed: 1, clock }) as unknown as PacedSource,
    ),
  ),
);

sourceContract('replay', () => {
  const { job, close } = recordedJob();
  return Promise.resolve(
    clockRig((clock) => replayOf(job, clock) as unknown as PacedSource, close),
  );
});

sourceContract('manual', () => {
  const clock = new FakeClock();
  const manual = createManualSource({ unit: 'A', clock });
  let started = false;
  let heard = 0;
  const source = {
    ...manual,
    start: async () => {
      await manual.start();
      started = true;
    },
    stop: async () => {
      started = false;
      await manual.stop();
    },
    onBatch: (fn: (batch: Batch) => void) => count(manual.onBatch(fn)),
    onHealth: (fn: Parameters<typeof manual.onHealth>[0]) => count(manual.onHealth(fn)),
  };
  const count = (off: () => void): (() => void) => {
    heard += 1;
    let left = false;
    return () => {
      if (!left) heard -= 1;
      left = true;
      off();
    };
  };
  return Promise.resolve({
    source,
    pass: (ms: number) => {
      for (let passed = 0; passed < ms; passed += 500) {
        clock.advance(500);
        // A person who reads the gauges types on; nobody types into a source that is off.
        if (started) manual.enter([{ channel: 'suctionPressure', value: 9e5 + passed }]);
      }
      return Promise.resolve();
    },
    listeners: () => heard,
    close: () => Promise.resolve(),
  });
});

describe('manual source', () => {
  it('repeats nothing: one entry is one sample at its time, and once the word that no more came', async () => {
    const clock = new FakeClock();
    const source = createManualSource({ unit: 'A', clock });
    const batches: Batch[] = [];
    source.onBatch((batch) => batches.push(batch));
    await source.start();
    clock.advance(2500);
    source.enter([{ channel: 'suctionPressure', value: 9e5 }]);
    clock.advance(60_000);
    expect(batches.map((b) => b.samples)).toEqual([
      [{ channel: 'suctionPressure', value: 9e5, t: 2.5 }],
      [{ channel: 'suctionPressure', value: null, why: 'untyped', t: 5 }],
    ]);
    await source.stop();
    expect(() => source.enter([{ channel: 'suctionPressure', value: 1 }])).toThrow(/not running/);
  });
});

describe('replay source', () => {
  it('gives back every sample in the order in which it arrived, and then has ended', async () => {
    const { job, samples, close } = recordedJob();
    const clock = new FakeClock();
    const source = replayOf(job, clock, 1000);
    const got: Sample[] = [];
    const states: string[] = [];
    source.onBatch((batch) => got.push(...batch.samples));
    source.onHealth((health) => states.push(health.state));
    await source.start();
    clock.advance(1000);
    expect(got).toEqual(samples);
    expect(states.at(-1)).toBe('ended');
    expect(source.playback().playing).toBe(false);
    await source.stop();
    close();
  });

  it('jumps by another epoch that holds everything up to the position', async () => {
    const { job, samples, close } = recordedJob();
    const clock = new FakeClock();
    const source = replayOf(job, clock);
    await source.start();
    clock.advance(5000);
    const batches: Batch[] = [];
    source.onBatch((batch) => batches.push(batch));
    source.pause();
    source.seek(30);
    expect(new Set(batches.map((b) => b.epoch)).size).toBe(1);
    const got = batches.flatMap((b) => b.samples);
    expect(got).toEqual(samples.slice(0, got.length));
    expect(got.at(-1)?.t).toBeLessThanOrEqual(30);
    expect(samples[got.length]?.t).toBeGreaterThan(30);
    clock.advance(5000);
    expect(source.playback().position).toBe(30);
    source.play();
    clock.advance(1000);
    expect(source.playback().position).toBeCloseTo(31, 6);
    await source.stop();
    close();
  });

  it('runs at the speed it is told, between 1 and 1000', async () => {
    const { job, close } = recordedJob();
    const clock = new FakeClock();
    const source = replayOf(job, clock);
    await source.start();
    source.setSpeed(10);
    clock.advance(2000);
    expect(source.playback().position).toBeCloseTo(20, 6);
    source.setSpeed(1e9);
    expect(source.playback().speed).toBe(1000);
    source.setSpeed(0);
    expect(source.playback().speed).toBe(1);
    await source.stop();
    close();
  });
});

describe('file source', () => {
  it('cannot be jumped in', () => {
    const source = createFileSource({
      table: table(),
      unit: 'A',
      speed: 1,
      clock: new FakeClock(),
    });
    expect(() => source.seek(3)).toThrow(/cannot seek/);
  });

  it('begins at its first row', async () => {
    const clock = new FakeClock();
    const source = createFileSource({ table: table(), unit: 'A', speed: 1, clock });
    const got: Sample[] = [];
    source.onBatch((batch) => got.push(...batch.samples));
    await source.start();
    clock.advance(1000);
    expect(got.map((s) => s.t)).toEqual([0, 0, 0.5, 0.5, 1, 1]);
    await source.stop();
  });

  it('says so when it cannot begin', async () => {
    const states: string[] = [];
    const source = new PacedSource({
      kind: 'file',
      capabilities: ['play'],
      clock: new FakeClock(),
      speed: 1,
      open: () => {
        throw new Error('gone');
      },
    });
    source.onHealth((health) => states.push(`${health.state}: ${health.alert?.tip ?? ''}`));
    await source.start();
    expect(states.at(-1)).toBe('failed: gone');
  });
});
