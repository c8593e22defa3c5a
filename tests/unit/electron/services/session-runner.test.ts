import { describe, expect, it } from 'vitest';
import { createEngine } from '../../../../core/engine.ts';
import { SessionSchema } from '../../../../core/record/session.ts';
import type { Sample } from '../../../../core/stream/sample.ts';
import type { SessionView } from '../../../../electron/bridge/views.ts';
import { SessionRunner } from '../../../../electron/services/session-runner.ts';
import { FakeClock } from '../../../support/fake-clock.ts';
import { FakeSource } from '../../../support/fake-source.ts';
import { drawnSession, testConfig } from '../../../support/session.ts';

/** A running session whose record, views and turns a test can look at. */
async function running(source = new FakeSource(), minimumRun = 600) {
  const clock = new FakeClock();
  const session = SessionSchema.parse({
    id: 's1',
    origin: new Date(clock.now()).toISOString(),
    endedAt: null,
    source: { kind: source.kind, label: 'test' },
    units: ['A', 'B'].map((unit) => ({ unit, config: testConfig({ minimumRun }) })),
    programVersion: '0',
  });
  const record: { unit: string; sample: Sample }[] = [];
  const views: SessionView[] = [];
  const turns: string[] = [];
  const broken: unknown[] = [];
  const disk = { full: false, flushed: 0 };
  const make = () =>
    new SessionRunner({
      session,
      source,
      recorder: {
        append: (unit, samples) => {
          if (disk.full) throw new Error('no space left');
          for (const sample of samples) record.push({ unit, sample });
        },
        flush: () => (disk.flushed += 1),
      },
      clock,
      startedAt: Date.parse(session.origin),
      events: {
        view: (view) => views.push(view),
        turn: (unit, turn) => turns.push(`${unit} ${turn.kind}`),
        broken: (error) => broken.push(error),
      },
    });
  const runner = make();
  await runner.start();
  const of = (unit: string): Sample[] => record.filter((r) => r.unit === unit).map((r) => r.sample);
  return { clock, session, source, record, views, turns, broken, disk, runner, make, of };
}

const at = (t: number, value = 280): Sample => ({ channel: 'suctionLineTemp', t, value });

describe('SessionRunner', () => {
  it('records each unit apart, in order of arrival, before it shows anything', async () => {
    const { source, clock, of, views, runner } = await running();
    source.say('A', [at(0), at(1)]);
    source.say('B', [at(0.5, 290)]);
    source.say('A', [at(0.5)]);
    source.say('nobody', [at(2)]);
    expect(of('A').map((s) => s.t)).toEqual([0, 1, 0.5]);
    expect(of('B')).toEqual([at(0.5, 290)]);
    clock.advance(100);
    expect(views.at(-1)?.units.map((u) => u.state.counts.samples)).toEqual([3, 1]);
    await runner.stop();
  });

  it('sends at most ten views a second and none when nothing happens', async () => {
    const { source, clock, views } = await running();
    for (let i = 0; i < 100; i += 1) {
      source.say('A', [at(i / 100)]);
      clock.advance(10);
    }
    expect(views.length).toBeLessThanOrEqual(10);
    const before = views.length;
    clock.advance(200);
    expect(views.length - before).toBeLessThanOrEqual(1);
    clock.advance(1000);
    expect(views.length - before).toBeLessThanOrEqual(1);
  });

  it('records the silence of a live channel, so that a replay goes blind at the same place', async () => {
    const { source, clock, of, views } = await running();
    const samples = drawnSession({
      seed: 1,
      duration: 60,
      rate: 1,
      tau: 5,
      start: 0,
      noise: 0.01,
    });
    for (let t = 0; t < 60; t += 1) {
      source.say('A', samples.slice(6 * t, 6 * t + 6));
      if (t < 59) clock.advance(1000);
    }
    const heard = of('A').length;
    clock.advance(40_000);
    const gaps = of('A').slice(heard, heard + 6);
    expect(new Set(gaps.map((gap) => gap.channel)).size).toBe(6);
    for (const gap of gaps) {
      expect(gap).toMatchObject({ value: null, why: 'silent' });
      expect(gap.t).toBeGreaterThan(59 + 5);
      expect(gap.t).toBeLessThan(59 + 7);
    }
    const again = createEngine(testConfig());
    again.push(of('A'));
    expect(again.state()).toEqual(views.at(-1)?.units[0]?.state);
    expect(again.state().steadiness.state).toBe('blind');
  });

  it.each([
    ['paused', { playing: false, speed: 1 }],
    ['hurrying', { playing: true, speed: 100 }],
  ])('misses no channel of a source that is %s', async (_name, pace) => {
    const source = new FakeSource('simulated', ['play', 'speed']);
    const { clock, of } = await running(source);
    source.say('A', [at(0), at(1)]);
    source.at = { ...source.at, ...pace };
    clock.advance(60_000);
    source.at = { ...source.at, playing: true, speed: 1 };
    clock.advance(4000);
    expect(of('A')).toHaveLength(2);
    clock.advance(20_000);
    expect(of('A').at(-1)).toMatchObject({ value: null, why: 'silent' });
  });

  it.each([
    ['forward, or the machine slept', 3_600_000],
    ['back', -3_600_000],
  ])('takes no clock that was set %s for silence', async (_name, ms) => {
    const { source, clock, of } = await running();
    for (let t = 0; t < 5; t += 1) {
      source.say('A', [at(t)]);
      clock.advance(1000);
    }
    clock.jump(ms);
    clock.advance(2000);
    source.say('A', [at(7)]);
    expect(of('A').map((s) => s.t)).toEqual([0, 1, 2, 3, 4, 7]);
    clock.advance(60_000);
    const gap = of('A')[6];
    expect(gap).toMatchObject({ value: null, why: 'silent' });
    expect(gap!.t).toBeLessThan(7 + 10);
  });

  it('misses no channel of numbers typed by hand', async () => {
    const { source, clock, of } = await running(new FakeSource('manual', ['enter']));
    source.say('A', [at(0)]);
    clock.advance(600_000);
    expect(of('A')).toHaveLength(1);
  });

  it('marks a break when the source begins anew and lets time go on', async () => {
    const { source, clock, of } = await running();
    source.say('A', [at(0), at(1)]);
    clock.advance(4000);
    source.epoch = 2;
    source.say('A', [at(0, 281)]);
    const [, , gap, next] = of('A');
    expect(gap).toMatchObject({ value: null, why: 'restarted', t: 4 });
    expect(next).toMatchObject({ value: 281, t: 4 });
    source.say('A', [at(1, 282)]);
    expect(of('A').at(-1)).toMatchObject({ value: 282, t: 5 });
  });

  it('goes on with a broken-off session by the wall clock, in the state of a replay', async () => {
    const first = await running();
    for (let t = 0; t <= 3; t += 1) first.source.say('A', [at(t)]);
    const recorded = [{ unit: 'A', samples: first.of('A') }];
    first.clock.advance(60_000);
    const second = first.make();
    second.resume(recorded);
    await second.start();
    expect(first.of('A').at(-1)).toEqual({
      channel: 'suctionLineTemp',
      t: 60,
      value: null,
      why: 'restarted',
    });
    first.source.epoch = 7;
    first.clock.advance(1000);
    first.source.say('A', [at(0, 285)]);
    expect(first.of('A').at(-1)).toEqual(at(61, 285));
  });

  it('calls when a unit comes to rest and when it leaves it, once each', async () => {
    const { source, clock, turns } = await running(new FakeSource(), 60);
    const samples = drawnSession({
      seed: 3,
      duration: 1000,
      rate: 1,
      tau: 40,
      start: 10,
      noise: 0.02,
      steps: [{ at: 900, by: 15 }],
    });
    for (let i = 0; i < samples.length; i += 6) {
      source.say('A', samples.slice(i, i + 6));
      clock.advance(1000);
    }
    expect(turns.slice(0, 2)).toEqual(['A settled', 'A disturbed']);
  });

  it('calls when a unit swings about a mean that stands', async () => {
    const { source, turns, runner } = await running(new FakeSource(), 60);
    const drawn = drawnSession({
      seed: 3,
      duration: 1800,
      rate: 1,
      tau: 40,
      start: 10,
      noise: 0.02,
    });
    const swinging = drawn.map((sample): Sample => {
      if (sample.channel !== 'suctionLineTemp' || sample.value === null) return sample;
      return { ...sample, value: sample.value + 2 * Math.sin((2 * Math.PI * sample.t) / 60) };
    });
    for (let i = 0; i < swinging.length; i += 6) source.say('A', swinging.slice(i, i + 6));
    const state = runner.view().units[0]?.state.steadiness.state;
    expect(state).toBe('hunting');
    expect(turns).toEqual(['A settled']);
  });

  it('stops showing when the disk refuses, and says so once', async () => {
    const { source, clock, views, broken, disk, record, runner } = await running();
    source.say('A', [at(0)]);
    clock.advance(1000);
    disk.full = true;
    source.say('A', [at(1)]);
    source.say('A', [at(2)]);
    expect(broken.map(String)).toEqual(['Error: no space left']);
    expect(record).toHaveLength(1);
    expect(views.at(-1)?.units[0]?.state.counts.samples).toBe(1);
    await runner.stop();
    expect(disk.flushed).toBe(0);
  });

  it('leaves neither timers nor listeners when it ends, and may be ended twice', async () => {
    for (let round = 0; round < 50; round += 1) {
      const { source, clock, runner, disk } = await running();
      await runner.stop();
      await runner.stop();
      expect([clock.running, source.listeners]).toEqual([0, 0]);
      expect(disk.flushed).toBeGreaterThan(0);
    }
  });
});
