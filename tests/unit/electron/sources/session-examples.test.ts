import { copyFileSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { createRun } from '../../../../core/plant/run.ts';
import { replay } from '../../../../electron/headless/replay.ts';
import { openJobFile } from '../../../../electron/jobfile/job-file.ts';
import { verifySessions } from '../../../../electron/services/verify-sessions.ts';
import { readScenarioFile } from '../../../../electron/sources/scenario-file.ts';
import { EXAMPLE_LENGTH_S, writeExampleJob } from '../../../support/example-job.ts';
import type { CsvTable } from '../../../../electron/sources/csv-table.ts';
import { parseCsv } from '../../../../electron/sources/csv.ts';

const FOLDER = 'fixtures/sessions';

function table(name: string): CsvTable {
  const read = parseCsv(readFileSync(join(FOLDER, name), 'utf8'), 101_325);
  if (!read.ok) throw new Error(read.error.detail);
  return read.value;
}

describe('the examples of sessions', () => {
  it.each(['settling-semicolon.csv', 'settling-tab.csv'])(
    '%s says the same as the plain table, but for its decimals',
    (name) => {
      const plain = table('settling-comma.csv');
      const other = table(name);
      expect(other.channels).toEqual(plain.channels);
      expect([...other.times]).toEqual([...plain.times]);
      // Half a step of the coarser display: 0.1 psig is 689 Pa, 0.1 °F is 0.056 K.
      plain.channels.forEach((channel, c) => {
        const step = channel.endsWith('Pressure') ? 690 : 0.056;
        plain.values[c]!.forEach((value, i) => {
          expect(Math.abs(other.values[c]![i]! - value)).toBeLessThan(step);
        });
      });
    },
  );

  it('the job opens, is marked as simulated, and holds the samples it ended with', () => {
    const folder = mkdtempSync(join(tmpdir(), 'stillpoint-example-'));
    const path = join(folder, 'simulated.stillpoint');
    copyFileSync(join(FOLDER, 'simulated.stillpoint'), path);
    const opened = openJobFile(path);
    if (!opened.ok) throw new Error(opened.error.detail);
    const job = opened.value;
    expect(job.sessions()[0]?.session.source.kind).toBe('simulated');
    expect(job.snapshots().map((s) => s.config.marks)).toEqual([['simulated'], ['simulated']]);
    for (const { sampleCount, sampleHash } of job.snapshots()) {
      expect(job.sampleHash('session-1', 'A', sampleCount)).toBe(sampleHash);
    }
    expect(verifySessions(job)).toMatchObject([{ unit: 'A', samplesAgree: true }]);
    job.close();
    rmSync(folder, { recursive: true });
  });

  it('the job, drawn now, replays to the last bit', () => {
    const scenario = readScenarioFile('fixtures/scenarios/healthy-start.json');
    if (!scenario.ok) throw new Error(scenario.error);
    const drawn = createRun(scenario.value).advanceTo(EXAMPLE_LENGTH_S)[0]?.samples ?? [];
    const folder = mkdtempSync(join(tmpdir(), 'stillpoint-example-'));
    const path = join(folder, 'simulated.stillpoint');
    writeExampleJob(path, drawn, scenario.value.title);
    expect(replay([path])).toMatchObject({
      agrees: true,
      snapshots: [{ agrees: true }, { agrees: true }],
      sessions: [{ source: 'simulated', unfinished: false }],
    });
    // The one that is kept holds the same samples, whatever engine read them since.
    const kept = join(folder, 'kept.stillpoint');
    copyFileSync(join(FOLDER, 'simulated.stillpoint'), kept);
    expect(replay([kept])).toMatchObject({
      snapshots: [{ samplesAgree: true }, { samplesAgree: true }],
    });
    rmSync(folder, { recursive: true });
  });
});
