import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { openJobFile } from '../../../../electron/jobfile/job-file.ts';
import { seeded } from '../../../support/random.ts';

let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'stillpoint-plug-'));
});
afterEach(() => {
  rmSync(folder, { recursive: true, force: true });
});

/** Starts a recording, kills it after some time, and tells what it had handed over when. */
async function recordAndKill(path: string, afterMs: number) {
  const child = spawn(process.execPath, [
    '--import',
    'tsx',
    'tests/support/recording-child.ts',
    path,
  ]);
  let said = '';
  let errors = '';
  child.stdout.on('data', (data: Buffer) => (said += data.toString()));
  child.stderr.on('data', (data: Buffer) => (errors += data.toString()));
  await Promise.race([once(child.stdout, 'data'), once(child, 'exit')]);
  await new Promise((resolve) => setTimeout(resolve, afterMs));
  child.kill('SIGKILL');
  const killedAt = Date.now();
  await once(child, 'exit');
  if (said === '') throw new Error(errors);
  const lines = said.trim().split('\n');
  return { killedAt, handed: lines.map((line) => line.split(' ').map(Number)) };
}

describe('a recording whose process is killed', () => {
  const { uniform } = seeded(42);
  const delays = Array.from({ length: 5 }, () => 700 + 1800 * uniform());

  it.each(delays)('loses nothing older than a second (killed after %d ms)', async (delay) => {
    const path = join(folder, 'job.stillpoint');
    const { killedAt, handed } = await recordAndKill(path, delay);
    const opened = openJobFile(path);
    if (!opened.ok) throw new Error(opened.error.detail);
    const job = opened.value;
    const samples = [...job.samples('session-1', 'A')].flat();
    const olderThanASecond = handed.filter(([, at]) => at! < killedAt - 1000);
    expect(samples.length).toBeGreaterThanOrEqual(olderThanASecond.at(-1)?.[0] ?? 0);
    expect(samples.length).toBeLessThanOrEqual(handed.at(-1)![0]! + 8);
    samples.forEach((sample, i) => {
      const first = i - (i % 8);
      expect(sample.value).toBe(280 + first + (i % 8) * 0.1);
    });
    const [stored] = job.sessions();
    expect(stored?.session.endedAt).toBeNull();

    const by = { author: 'test', at: '2026-03-01T10:00:00Z' };
    const recorder = job.resumeSession('session-1', by);
    recorder.append('A', [{ channel: 'suctionPressure', t: 99, value: 1 }]);
    const mark = recorder.mark('A');
    expect(mark.sampleCount).toBe(samples.length + 1);
    expect(job.sampleHash('session-1', 'A', samples.length + 1)).toBe(mark.sampleHash);
    recorder.end(by);
    expect(job.sessions()[0]?.session.endedAt).toBe(by.at);
    job.close();
  });
});
