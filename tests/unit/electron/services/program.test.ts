import { copyFileSync, existsSync, mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, describe, expect, it } from 'vitest';
import { fail, ok } from '../../../../core/result.ts';
import { failure, say } from '../../../../electron/bridge/errors.ts';
import type { SourcePlanner } from '../../../../electron/services/source-planner.ts';
import { FakeClock } from '../../../support/fake-clock.ts';
import { FakeSource } from '../../../support/fake-source.ts';
import { testAnswers, testJob, testUnit } from '../../../support/job.ts';
import { startProgram, type TestProgram } from '../../../support/program.ts';
import { drawnSession, testConfig } from '../../../support/session.ts';

const programs: TestProgram[] = [];
afterEach(async () => {
  for (const program of programs.splice(0)) await program.services.close();
});

/** The program over a source that a test speaks through. */
function start(home?: string) {
  const clock = new FakeClock();
  const sources: FakeSource[] = [];
  const make = (): FakeSource => {
    const source = new FakeSource('radio');
    sources.push(source);
    return source;
  };
  const planner: SourcePlanner = {
    rows: () => [],
    scenarios: () => [],
    plan: (choice, job) =>
      choice.kind === 'radio'
        ? ok({
            source: make(),
            kind: 'radio',
            label: 'test sensors',
            origin: null,
            units: job.units.map((u) => ({ unit: u.key, config: testConfig({ minimumRun: 60 }) })),
            newUnits: [],
            notices: [],
          })
        : fail(failure('SCENARIO_REFUSED', { detail: 'not in this test' })),
    resume: () => ok(make()),
  };
  const program = startProgram({ clock, planner, ...(home === undefined ? {} : { home }) });
  programs.push(program);
  const source = (): FakeSource => sources.at(-1)!;
  /** Lets the drawn session come in, second by second. */
  const play = (from: number, to: number): void => {
    for (let t = from; t < to; t += 1) {
      source().say('A', SAMPLES.slice(6 * t, 6 * t + 6));
      clock.advance(1000);
    }
  };
  return { ...program, clock, source, play };
}

const SAMPLES = drawnSession({
  seed: 5,
  duration: 900,
  rate: 1,
  tau: 30,
  start: 10,
  noise: 0.02,
});
const radio = { source: { kind: 'radio' } } as const;
const take = { unit: 'A', label: 'after', note: '' };

/** A stopped session with two snapshots. */
async function recorded(home?: string) {
  const program = start(home);
  await program.must('job.create', testJob());
  const { sessionId } = await program.must('session.start', radio);
  program.play(0, 150);
  const first = await program.must('snapshot.take', take);
  program.play(150, 850);
  const second = await program.must('snapshot.take', take);
  program.play(850, 900);
  await program.must('session.stop', {});
  return { ...program, sessionId, first, second };
}

describe('a session, from its source into the record', () => {
  it('is recorded, snapshot, closed and shown', async () => {
    const { must, events, sessionId, second } = await recorded();
    const job = await must('job.current', {});
    expect(job?.sessions).toMatchObject([{ id: sessionId, samples: 5400, unfinished: false }]);
    expect(job?.snapshots).toHaveLength(2);
    expect(second.sampleCount).toBe(5100);
    // Started at 10 s, taken at 850 s.
    expect(second.run?.runTime).toBeGreaterThan(820);
    expect(second.run?.runTime).toBeLessThan(845);
    expect(second.run?.pattern?.starts).toBe(1);
    expect(second.content.figures.superheat?.value).toBeCloseTo(12 / 1.8, 1);
    expect(events.some((e) => e.name === 'callout' && e.payload.kind === 'settled')).toBe(true);
    expect(events.filter((e) => e.name === 'sessionClosed')).toHaveLength(1);
    const last = events.findLast((e) => e.name === 'job');
    expect(last?.payload).toEqual(job);
  });

  it('says why it takes no snapshot', async () => {
    const { must, call } = start();
    expect(await call('snapshot.take', take)).toMatchObject({ error: { code: 'NO_SESSION' } });
    await must('job.create', testJob());
    await must('session.start', radio);
    const none = await call('snapshot.take', take);
    expect(!none.ok && say(none.error)).toContain('no readings have come in yet');
    expect(await call('snapshot.take', { ...take, unit: 'B' })).toMatchObject({
      error: { code: 'UNKNOWN_UNIT' },
    });
  });

  it('refuses what would tear a recording, and leaves it whole', async () => {
    const { must, call, play } = start();
    const { file } = await must('job.create', testJob());
    await must('session.start', radio);
    play(0, 5);
    const { sessionId } = (await must('session.current', { role: 'live' }))!;
    for (const result of [
      await call('session.start', radio),
      await call('session.resume', { session: sessionId }),
      await call('session.seal', { session: sessionId }),
      await call('job.create', testJob()),
      await call('job.open', { file }),
      await call('job.close', {}),
      await call('review.open', { session: sessionId }),
    ]) {
      expect(result).toMatchObject({ ok: false, error: { code: 'SESSION_RUNNING' } });
    }
    expect(await call('playback.seek', { role: 'live', position: 1 })).toMatchObject({
      error: { code: 'NOT_STEERABLE' },
    });
    play(5, 10);
    await must('session.stop', {});
    expect((await must('job.current', {}))?.sessions[0]?.samples).toBe(60);
  });

  it('refuses a session without a job, and passes the refusal of a source on', async () => {
    const { must, call } = start();
    expect(await call('session.start', radio)).toMatchObject({ error: { code: 'NO_JOB' } });
    await must('job.create', testJob());
    const simulated = { kind: 'simulated', scenario: 'x', speed: 1 } as const;
    expect(await call('session.start', { source: simulated })).toMatchObject({
      error: { code: 'SCENARIO_REFUSED' },
    });
    expect((await must('job.current', {}))?.sessions).toEqual([]);
  });

  it('goes on with a session that broke off, by the wall clock', async () => {
    const first = start();
    await first.must('job.create', testJob());
    const { sessionId } = await first.must('session.start', radio);
    first.play(0, 100);
    // The process ends without a word: another one finds the session unfinished.
    const home = await pulledPlug(first);
    const second = start(home);
    const row = (await second.must('job.list', {}))[0]!;
    const job = await second.must('job.open', { file: row.file });
    expect(job.sessions).toMatchObject([{ id: sessionId, unfinished: true, samples: 600 }]);
    second.clock.advance(400_000);
    const view = await second.must('session.resume', { session: sessionId });
    expect(view.units[0]?.state.counts).toMatchObject({ samples: 606, gaps: 6 });
    expect(view.units[0]?.state.t).toBe(400);
    second.source().say('A', [{ channel: 'suctionPressure', t: 0, value: 9e5 }]);
    const snapshot = await second.must('snapshot.take', take);
    expect(snapshot.sampleCount).toBe(607);
    await second.must('session.stop', {});
    expect(await second.must('review.verify', {})).toMatchObject([
      { samplesAgree: true, numbersAgree: true },
    ]);
  });

  it('closes a session that broke off as it is', async () => {
    const first = start();
    await first.must('job.create', testJob());
    const { sessionId } = await first.must('session.start', radio);
    first.play(0, 10);
    const second = start(await pulledPlug(first));
    await second.must('job.open', { file: (await second.must('job.list', {}))[0]!.file });
    const sealed = await second.must('session.seal', { session: sessionId });
    expect(sealed.sessions).toMatchObject([{ unfinished: false, samples: 60 }]);
    expect(await second.call('session.resume', { session: sessionId })).toMatchObject({
      error: { code: 'UNKNOWN_SESSION' },
    });
  });
});

/** The data folder as it stands on the disk while the program runs: what a pulled plug leaves. */
async function pulledPlug(program: TestProgram): Promise<string> {
  const file = (await program.must('job.current', {}))!.file;
  // A second is what may be lost; the recorder writes within that time by itself.
  await new Promise((resolve) => setTimeout(resolve, 600));
  const home = join(program.home, 'after');
  mkdirSync(join(home, 'jobs'), { recursive: true });
  for (const suffix of ['', '-wal', '-shm']) {
    const from = join(program.home, 'jobs', file + suffix);
    if (existsSync(from)) copyFileSync(from, join(home, 'jobs', file + suffix));
  }
  return home;
}

describe('a review', () => {
  it('verifies snapshots to the last bit and comes to the same state at the same place', async () => {
    const { must, sessionId, second } = await recorded();
    expect(await must('review.verify', {})).toMatchObject([
      { samplesAgree: true, numbersAgree: true, detail: null },
      { samplesAgree: true, numbersAgree: true, detail: null },
    ]);
    const view = await must('review.open', { session: sessionId });
    expect(view).toMatchObject({ role: 'review', playback: { position: 0, playing: false } });
    expect(view.capabilities).toContain('seek');
    await must('playback.seek', { role: 'review', position: 849.5 });
    const same = await must('review.recompute', { unit: 'A', config: second.config });
    expect(same.content).toEqual(second.content);
  });

  it('plays by its own clock and tells the screens', async () => {
    const { must, clock, events, sessionId } = await recorded();
    await must('review.open', { session: sessionId });
    await must('playback.speed', { role: 'review', speed: 100 });
    await must('playback.play', { role: 'review' });
    clock.advance(2000);
    const shown = events.findLast((e) => e.name === 'session');
    expect(shown?.payload).toMatchObject({ role: 'review', playback: { playing: true } });
    const { playback } = (await must('session.current', { role: 'review' }))!;
    expect(playback?.position).toBeCloseTo(200, 0);
    await must('playback.pause', { role: 'review' });
    clock.advance(2000);
    expect((await must('session.current', { role: 'review' }))?.playback?.position).toBeCloseTo(
      200,
      0,
    );
  });

  it('recomputes with another assumption', async () => {
    const { must, call, sessionId, second } = await recorded();
    await must('review.open', { session: sessionId });
    await must('playback.seek', { role: 'review', position: 849.5 });
    const config = { ...second.config, offsets: { suctionLineTemp: 1 } };
    const warmer = await must('review.recompute', { unit: 'A', config });
    const before = second.content.figures.superheat!.value;
    expect(warmer.content?.figures.superheat?.value).toBeCloseTo(before + 1, 6);
    expect(await call('review.recompute', { unit: 'Z', config })).toMatchObject({
      error: { code: 'UNKNOWN_UNIT' },
    });
    await must('playback.seek', { role: 'review', position: 0 });
    const early = await must('review.recompute', { unit: 'A', config: second.config });
    expect(early.content === null ? early.refused : early.content.window.to).toBeDefined();
  });

  it('draws the trends of the whole session, wherever it stands', async () => {
    const { must, call, clock, sessionId } = await recorded();
    await must('review.open', { session: sessionId });
    const query = {
      role: 'review',
      unit: 'A',
      keys: ['suctionLineTemp', 'superheat'],
      from: 0,
      to: 1000,
      points: 100,
    } as const;
    await expect
      .poll(async () => (await must('trend.query', query))[0]?.points.at(-1)?.[0], {
        timeout: 10_000,
      })
      .toBe(899);
    const lines = await must('trend.query', query);
    expect(lines.every((line) => line.points.length > 50 && line.points.length <= 100)).toBe(true);
    expect(await call('trend.query', { ...query, unit: 'Z' })).toMatchObject({
      error: { code: 'UNKNOWN_UNIT' },
    });
    await must('review.close', {});
    expect(await call('trend.query', query)).toMatchObject({ error: { code: 'NO_SESSION' } });
    expect(clock.running).toBe(0);
  });

  it('ends when its job is closed', async () => {
    const { must, call, events, sessionId } = await recorded();
    await must('review.open', { session: sessionId });
    await must('job.close', {});
    expect(events.findLast((e) => e.name === 'sessionClosed')?.payload).toEqual({ role: 'review' });
    expect(await must('session.current', { role: 'review' })).toBeNull();
    expect(await call('review.verify', {})).toMatchObject({ error: { code: 'NO_JOB' } });
  });
});

describe('the record', () => {
  it('keeps what people write, with who and when, and tells the screens', async () => {
    const { must, call, events } = start();
    expect(await call('note.add', { text: 'x' })).toMatchObject({ error: { code: 'NO_JOB' } });
    await must('settings.set', { units: 'us', author: 'R. Tester', sound: true });
    await must('job.create', testJob());
    await must('unit.save', { unit: testUnit({ key: 'B', name: 'Second' }) });
    await must('finding.add', { unit: 'A', kind: 'icedCoil', text: 'half the face' });
    const { title, site } = testJob();
    await must('job.update', { title, site, complaint: 'Cold now.' });
    const job = await must('note.add', { text: 'Left at noon.' });
    expect(job.units.map((u) => u.key)).toEqual(['A', 'B']);
    expect(job.head.complaint).toBe('Cold now.');
    expect(job.findings).toMatchObject([{ kind: 'icedCoil', author: 'R. Tester' }]);
    expect(job.notes).toMatchObject([
      { text: 'Left at noon.', author: 'R. Tester', at: '2026-06-01T12:00:00.000Z' },
    ]);
    expect(job.log.length).toBeGreaterThanOrEqual(5);
    expect(events.filter((e) => e.name === 'job')).toHaveLength(5);
  });

  it('gives back on another day what no sensor tells', async () => {
    const { must, call, home, services } = start();
    await must('settings.set', { units: 'us', author: 'R. Tester', sound: true });
    const { file } = await must('job.create', testJob());
    const answers = testAnswers({ airflow: 'attested', chargeWeighed: true });
    await must('answers.save', { unit: 'A', answers });
    expect(await call('answers.save', { unit: 'Z', answers })).toMatchObject({
      error: { code: 'UNKNOWN_UNIT' },
    });
    await services.close();
    const later = start(home);
    const job = await later.must('job.open', { file });
    expect(job.answers).toMatchObject([{ unit: 'A', answers, author: 'R. Tester' }]);
  });

  it('keeps a reviewer’s word beside the snapshot, and refuses one on what is not there', async () => {
    const { must, call, play } = start();
    await must('job.create', testJob());
    await must('session.start', radio);
    play(0, 30);
    const taken = await must('snapshot.take', take);
    const word = { snapshot: taken.id, verdict: 'queried', text: 'Which clamp?' } as const;
    const job = await must('snapshot.review', word);
    expect(job.reviews).toMatchObject([word]);
    expect(job.snapshots).toEqual([taken]);
    expect(await call('snapshot.review', { ...word, snapshot: 'none' })).toMatchObject({
      error: { code: 'UNKNOWN_SNAPSHOT' },
    });
    expect(await call('snapshot.review', { ...word, text: '' })).toMatchObject({
      error: { code: 'BAD_ARGUMENTS' },
    });
  });
});
