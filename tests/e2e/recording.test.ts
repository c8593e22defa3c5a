import { copyFileSync, mkdirSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { Bridge } from '../../electron/bridge/client.ts';
import type { CommandResults } from '../../electron/bridge/commands.ts';
import { say } from '../../electron/bridge/errors.ts';
import type { SessionView } from '../../electron/bridge/views.ts';
import { testJob } from '../support/job.ts';
import { freshHome, hostsPerTest, must, until } from './harness.ts';

const start = hostsPerTest();

/** Starts to record the first scenario into a new job. */
async function record(bridge: Bridge, speed: number): Promise<SessionView> {
  const [scenario] = await must(bridge, 'scenario.list', {});
  if (scenario === undefined) throw new Error('no scenario came with the program');
  await must(bridge, 'job.create', testJob());
  return must(bridge, 'session.start', {
    source: { kind: 'simulated', scenario: scenario.id, speed },
  });
}

/** Waits until the session has come to a time. */
async function reached(bridge: Bridge, t: number): Promise<SessionView> {
  return until(async () => {
    const view = await must(bridge, 'session.current', { role: 'live' });
    return (view?.units[0]?.state.t ?? -1) >= t ? view : null;
  }, `session time ${t} s`);
}

const snapshot = { unit: 'A', label: 'seen', note: '' };

describe('a recording', () => {
  it('survives kill -9: the session is offered, whole, and goes on', async () => {
    const first = await start();
    const { sessionId } = await record(first.bridge, 1);
    await reached(first.bridge, 4);
    const before = await must(first.bridge, 'snapshot.take', snapshot);
    await new Promise((resolve) => setTimeout(resolve, 1100));
    const shown = (await must(first.bridge, 'session.current', { role: 'live' }))?.units[0]?.state;
    await new Promise((resolve) => setTimeout(resolve, 1100));
    await first.host.kill();

    const second = await start(first.host.home);
    const [row] = await must(second.bridge, 'job.list', {});
    expect(row).toMatchObject({ refused: null, sessions: 1, snapshots: 1 });
    const job = await must(second.bridge, 'job.open', { file: row!.file });
    expect(job.sessions).toMatchObject([{ id: sessionId, unfinished: true }]);
    // What was on the screen more than a second before the plug was pulled is on the disk.
    expect(job.sessions[0]!.samples).toBeGreaterThanOrEqual(shown!.counts.samples);
    expect(job.snapshots).toEqual([before]);

    const resumed = await must(second.bridge, 'session.resume', { session: sessionId });
    const at = resumed.units[0]!.state;
    expect(at.counts.samples).toBeGreaterThan(job.sessions[0]!.samples);
    const reasons = Object.values(at.channels).map((channel) => channel.why);
    expect(reasons.every((why) => why === null || why === 'restarted')).toBe(true);
    expect(reasons).toContain('restarted');
    await reached(second.bridge, at.t! + 2);
    await must(second.bridge, 'snapshot.take', snapshot);
    await must(second.bridge, 'session.stop', {});
    const verified = await must(second.bridge, 'review.verify', {});
    expect(verified).toHaveLength(2);
    for (const one of verified) {
      expect(one).toMatchObject({ samplesAgree: true, numbersAgree: true, detail: null });
    }
  });

  it('ends on Ctrl-C with its session closed and nothing lost', async () => {
    const first = await start();
    await record(first.bridge, 10);
    await reached(first.bridge, 20);
    expect(await first.host.stop()).toBe(0);
    const second = await start(first.host.home);
    const [row] = await must(second.bridge, 'job.list', {});
    const job = await must(second.bridge, 'job.open', { file: row!.file });
    expect(job.sessions).toMatchObject([{ unfinished: false }]);
    expect(job.sessions[0]!.duration_s).toBeGreaterThan(19);
  });

  it('gives the same numbers to the last bit on another machine', async () => {
    const here = await start();
    const { sessionId } = await record(here.bridge, 200);
    const view = await reached(here.bridge, 900);
    const taken = await must(here.bridge, 'snapshot.take', snapshot);
    expect(Object.keys(taken.content.figures)).toContain('superheat');
    await must(here.bridge, 'session.stop', {});
    const file = (await must(here.bridge, 'job.current', {}))!.file;
    await here.host.stop();

    // The file travels as it is: handed in through the browser on a machine that knows nothing.
    const there = await start();
    const bytes = readFileSync(join(here.host.home, 'jobs', file));
    const piece = 100_000;
    let opened: CommandResults['job.import'] = null;
    for (let at = 0; at < bytes.length; at += piece) {
      opened = await must(there.bridge, 'job.import', {
        upload: 'travel',
        name: file,
        base64: bytes.subarray(at, at + piece).toString('base64'),
        last: at + piece >= bytes.length,
      });
    }
    expect(opened?.snapshots).toEqual([taken]);
    const verified = await must(there.bridge, 'review.verify', {});
    expect(verified).toMatchObject([{ samplesAgree: true, numbersAgree: true, detail: null }]);
    const review = await must(there.bridge, 'review.open', { session: sessionId });
    expect(review.source).toEqual(view.source);
    expect(review.units[0]?.config.marks).toContain('simulated');
  });

  it('is refused when damaged, with a reason, and left as it is', async () => {
    const here = await start();
    await record(here.bridge, 50);
    await reached(here.bridge, 30);
    await must(here.bridge, 'session.stop', {});
    const file = (await must(here.bridge, 'job.current', {}))!.file;
    await here.host.stop();
    const bytes = readFileSync(join(here.host.home, 'jobs', file));

    const home = freshHome();
    mkdirSync(join(home, 'jobs'));
    const whole = join(home, 'jobs', 'whole.stillpoint');
    copyFileSync(join(here.host.home, 'jobs', file), whole);
    const there = await start(home);
    const cut = bytes.subarray(0, Math.floor(bytes.length / 2));
    const refused = await there.bridge.call('job.import', {
      upload: 'cut',
      name: 'cut.stillpoint',
      base64: cut.toString('base64'),
      last: true,
    });
    expect(refused).toMatchObject({ ok: false, error: { code: 'JOB_REFUSED' } });
    expect(!refused.ok && say(refused.error)).toMatch(/cut\.stillpoint was refused: \S+/);
    expect(readdirSync(join(home, 'jobs'))).toEqual(['whole.stillpoint']);
    expect(await must(there.bridge, 'job.list', {})).toMatchObject([{ refused: null }]);
  });
});
