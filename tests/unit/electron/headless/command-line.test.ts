import { spawn, spawnSync } from 'node:child_process';
import { once } from 'node:events';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { createJobFile } from '../../../../electron/jobfile/job-file.ts';
import { takeOwnership } from '../../../../electron/jobfile/owner-lock.ts';
import { testHead, testUnit } from '../../../support/job.ts';

let folder: string;
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'stillpoint-cli-'));
});
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

function headless(...args: string[]) {
  const run = spawnSync(process.execPath, ['--import', 'tsx', 'electron/headless.ts', ...args], {
    encoding: 'utf8',
  });
  return { code: run.status, out: run.stdout, err: run.stderr };
}

describe('the command line', () => {
  it('answers in JSON on standard output', () => {
    const { code, out, err } = headless('saturation', 'R-410A', '118', 'psig');
    expect({ code, err }).toEqual({ code: 0, err: '' });
    expect(JSON.parse(out)).toMatchObject({ refrigerant: 'R-410A', dew: {}, bubble: {} });
  });

  it('takes a negative number for a number', () => {
    const { code, out } = headless('saturation', 'R-410A', '-20', 'degF');
    expect(code).toBe(0);
    expect((JSON.parse(out) as { dew: { degF: number } }).dew.degF).toBeCloseTo(-20, 3);
  });

  it('tells an error in one line on standard error, with exit code 2 and no output', () => {
    const table = join(folder, 'bad.csv');
    writeFileSync(table, 'time[s],suctionPressure[psig]\n0,118\n1,oops\n');
    const options = ['--refrigerant', 'R-410A', '--metering', 'txv', '--mode', 'cooling'];
    const cases: readonly [readonly string[], RegExp][] = [
      [[], /which verb\? the verbs are saturation/],
      [['nonsense'], /no verb nonsense/],
      [['analyze', table, ...options], /line 3, column 2 \(suctionPressure\[psig\]\): 'oops'/],
      [['analyze', table, ...options, '--colour', 'red'], /--colour/],
      [['analyze', join(folder, 'none.csv'), ...options], /cannot read .*none\.csv/],
      [['replay', join(folder, 'none.stillpoint')], /no such file/],
    ];
    for (const [args, message] of cases) {
      const { code, out, err } = headless(...args);
      expect(err).toMatch(message);
      expect({ code, out, lines: err.trim().split('\n').length }).toEqual({
        code: 2,
        out: '',
        lines: 1,
      });
    }
  });

  it('lets two verbs read one job at the same time, and names a window that holds it', async () => {
    const path = join(folder, 'shared.stillpoint');
    const by = { author: '', at: '2026-03-01T09:00:00Z' };
    const job = createJobFile(path, testHead(), [testUnit()], by);
    if (!job.ok) throw new Error(job.error.detail);
    const { err } = headless('replay', path);
    expect(err).toContain(
      `another window of this program (process ${process.pid} on this computer)`,
    );
    job.value.close();
    const reader = takeOwnership(path, 'read');
    const run = spawn(process.execPath, [
      '--import',
      'tsx',
      'electron/headless.ts',
      'replay',
      path,
    ]);
    await new Promise((resolve) => setTimeout(resolve, 2000));
    expect(run.exitCode).toBeNull();
    if (reader.ok) reader.value.release();
    const [code] = (await once(run, 'exit')) as [number | null];
    expect(code).toBe(0);
  });

  it('explains itself', () => {
    const { code, out } = headless('--help');
    expect(code).toBe(0);
    for (const verb of ['saturation', 'analyze', 'simulate', 'convert', 'replay']) {
      expect(out).toContain(`  ${verb} `);
    }
  });
});
