import { mkdirSync, mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, describe, expect, it } from 'vitest';
import {
  differenceFromFahrenheit,
  fahrenheitFromDifference,
} from '../../../../core/units/temperature.ts';
import { say } from '../../../../electron/bridge/errors.ts';
import { typedValues } from '../../../../electron/services/manual-values.ts';
import { planSimulated } from '../../../../electron/services/plan-simulated.ts';
import { createScenarios } from '../../../../electron/services/scenarios.ts';
import type { SplitScenario } from '../../../../core/plant/scenario.ts';
import { atmosphereAtAltitude, pascalFromPsig } from '../../../../core/units/pressure.ts';
import { FakeClock } from '../../../support/fake-clock.ts';
import { testHead, testJob, testUnit } from '../../../support/job.ts';
import { startProgram, type TestProgram } from '../../../support/program.ts';
import { testScenario } from '../../../support/scenario.ts';

const programs: TestProgram[] = [];
afterEach(async () => {
  for (const program of programs.splice(0)) await program.services.close();
});

function start(): TestProgram & { clock: FakeClock } {
  const clock = new FakeClock();
  const program = startProgram({ clock });
  programs.push(program);
  return { ...program, clock };
}

const CSV = `time,suctionPressure[psig],suctionLineTemp[degF]
2026-05-01T10:00:00Z,118,55
2026-05-01T10:00:01Z,118.5,
2026-05-01T10:00:02Z,119,56
`;

/** A table in one piece. */
const whole = (name: string, text: string) => ({
  upload: name,
  piece: 0,
  name,
  size: text.length,
  text,
  last: true,
});

/** Hands in a table that must be taken. */
const loader = (must: ReturnType<typeof start>['must']) => async (name: string, text: string) => {
  const summary = await must('csv.load', whole(name, text));
  if (summary === null) throw new Error('a whole table was not answered');
  return summary;
};

describe('a logged table', () => {
  it('comes in pieces, cut anywhere, two at a time', async () => {
    const { must } = start();
    const pieces = (name: string) =>
      [CSV.slice(0, 70), CSV.slice(70, 75), CSV.slice(75)].map((text, i) => ({
        upload: name,
        piece: i,
        name,
        size: CSV.length,
        text,
        last: i === 2,
      }));
    const answers = [];
    const b = pieces('b');
    for (const [i, piece] of pieces('a').entries()) {
      answers.push(await must('csv.load', piece), await must('csv.load', b[i] ?? piece));
    }
    expect(answers.slice(0, 4)).toEqual([null, null, null, null]);
    expect(answers.slice(4)).toMatchObject([
      { name: 'a', rows: 3 },
      { name: 'b', rows: 3 },
    ]);
  });

  it('is refused where some of it was given up for others, and does not begin in its middle', async () => {
    const { must, call } = start();
    const begun = (name: string) => ({ ...whole(name, CSV.slice(0, 70)), last: false });
    for (const name of ['a', 'b', 'c']) await must('csv.load', begun(name));
    const rest = { ...whole('a', CSV), piece: 1 };
    const refused = await call('csv.load', rest);
    expect(!refused.ok && say(refused.error)).toMatch(/some of it did not arrive.*Choose it again/);
  });

  it('is refused at its first piece where it is too large, with its size and what to do', async () => {
    const { call } = start();
    const piece = { ...whole('huge.csv', CSV), size: 312_000_000, last: false };
    const refused = await call('csv.load', piece);
    expect(!refused.ok && say(refused.error)).toMatch(
      /it has 312 MB, and at most 200 MB can be read\. Cut it/,
    );
  });

  it('tells what is left out of it before it is watched, and in the record', async () => {
    const { must } = start();
    const load = loader(must);
    await must('job.create', testJob());
    const notes = ['line 5: the last line was cut off and is left out; all above it is read'];
    const summary = await load('cut.csv', `${CSV}2026-05-01T10:0`);
    expect(summary).toMatchObject({ rows: 3, notes });
    const source = { kind: 'file', csv: summary.id, unit: 'A', speed: 1000 } as const;
    const view = await must('session.start', { source });
    expect(view.source).toEqual({ kind: 'file', label: 'cut.csv', notes });
    const job = await must('job.current', {});
    expect(job?.sessions[0]?.source.notes).toEqual(notes);
  });

  it('becomes a session at the times and in the atmosphere it was logged in', async () => {
    const { must, clock } = start();
    const load = loader(must);
    const site = { name: 'High', address: '', altitude_m: 1600 };
    await must('job.create', testJob({ site }));
    const summary = await load('log.csv', CSV);
    expect(summary).toMatchObject({ name: 'log.csv', rows: 3, duration_s: 2 });
    const source = { kind: 'file', csv: summary.id, unit: 'A', speed: 1000 } as const;
    const view = await must('session.start', { source });
    expect(view).toMatchObject({
      origin: '2026-05-01T10:00:00.000Z',
      source: { kind: 'file', label: 'log.csv' },
      units: [{ config: { gauge: { channels: ['suctionPressure'] }, marks: [] } }],
    });
    clock.advance(1000);
    const live = await must('session.current', { role: 'live' });
    expect(live?.health.state).toBe('ended');
    expect(live?.capabilities).not.toContain('seek');
    const [line] = await must('trend.query', {
      role: 'live',
      unit: 'A',
      keys: ['suctionPressure'],
      from: 0,
      to: 10,
      points: 16,
    });
    const atmosphere = atmosphereAtAltitude(1600);
    expect(line?.points).toEqual(
      [118, 118.5, 119].map((psig, t) => [t, pascalFromPsig(psig, atmosphere)]),
    );
    await must('session.stop', {});
    const job = await must('job.current', {});
    expect(job?.sessions).toMatchObject([{ samples: 5, duration_s: 2 }]);
  });

  it('is refused with line and column, and nothing is begun', async () => {
    const { must, call } = start();
    const load = loader(must);
    await must('job.create', testJob());
    const wrong = await call('csv.load', whole('x', CSV.replace('118.5', 'much')));
    expect(!wrong.ok && say(wrong.error)).toMatch(/line 3, column 2/);
    const gone = await call('session.start', {
      source: { kind: 'file', csv: 'none', unit: 'A', speed: 1 },
    });
    expect(!gone.ok && say(gone.error)).toContain('not loaded any more');
    const { id } = await load('x', CSV);
    const elsewhere = await call('session.start', {
      source: { kind: 'file', csv: id, unit: 'Z', speed: 1 },
    });
    expect(elsewhere).toMatchObject({ error: { code: 'UNKNOWN_UNIT' } });
    expect((await must('job.current', {}))?.sessions).toEqual([]);
  });
});

describe('typed numbers', () => {
  it('become samples in SI, marked as typed', async () => {
    const { must, call, clock } = start();
    await must('job.create', testJob());
    const values = [
      { channel: 'suctionPressure', value: 118, unit: 'psig' },
      { channel: 'suctionLineTemp', value: 55, unit: 'degF' },
    ] as const;
    expect(await call('manual.enter', { values })).toMatchObject({ error: { code: 'NO_SESSION' } });
    const view = await must('session.start', { source: { kind: 'manual', unit: 'A' } });
    expect(view.units[0]?.config.marks).toEqual(['typedByHand']);
    clock.advance(3000);
    await must('manual.enter', { values });
    const { units } = (await must('session.current', { role: 'live' }))!;
    expect(units[0]?.state.channels.suctionPressure).toMatchObject({
      t: 3,
      value: pascalFromPsig(118),
    });
  });

  it('are read from the first entry on, each by itself', async () => {
    const { must, clock } = start();
    await must('job.create', testJob());
    await must('session.start', { source: { kind: 'manual', unit: 'A' } });
    const superheat = async (line: number): Promise<number> => {
      clock.advance(60_000);
      await must('manual.enter', {
        values: [
          { channel: 'suctionPressure', value: 118, unit: 'psig' },
          { channel: 'suctionLineTemp', value: line, unit: 'degF' },
        ],
      });
      clock.advance(3000);
      const { units } = (await must('session.current', { role: 'live' }))!;
      return fahrenheitFromDifference(units[0]?.state.figures.superheat?.value ?? NaN);
    };
    const first = await superheat(55);
    expect(first).toBeGreaterThan(5);
    expect(await superheat(61)).toBeCloseTo(first + 6, 1);
  });

  it.each([
    ['psia', 'suctionPressure', 118, 'psig, kPag or barg'],
    ['degF', 'suctionPressure', 118, 'cannot be in degF'],
    ['furlong', 'suctionLineTemp', 1, 'cannot be in furlong'],
    ['degF', 'suctionLineTemp', 5000, 'out of range'],
  ] as const)('are refused in %s for %s', (unit, channel, value, why) => {
    const result = typedValues([{ channel, value, unit }], 101_325);
    expect(!result.ok && say(result.error)).toContain(why);
  });
});

describe('a simulated session', () => {
  const scenario = testScenario() as SplitScenario;
  const plan = (units = [testUnit()]) =>
    planSimulated(scenario, 10, { head: testHead(), units }, new FakeClock());

  it('is marked, and goes by what the scenario says the unit is', () => {
    const { kind, label, units, newUnits, notices } = plan([
      testUnit({ refrigerant: 'R-22', minimumRun_s: 900 }),
    ]);
    expect({ kind, label, newUnits }).toEqual({
      kind: 'simulated',
      label: 'Test unit',
      newUnits: [],
    });
    expect(units[0]?.config).toMatchObject({
      refrigerant: 'R-410A',
      minimumRun: 900,
      marks: ['simulated'],
      gauge: { channels: ['suctionPressure', 'liquidPressure'], convertedWith: 101_325 },
    });
    expect(notices).toHaveLength(1);
    expect(notices[0]).toContain('R-22');
  });

  it('adds the units that the job does not have', () => {
    expect(plan().newUnits).toEqual([]);
    expect(plan([testUnit({ key: 'X' })]).newUnits).toMatchObject([
      {
        key: 'A',
        refrigerant: 'R-410A',
        // 5.6 K is 10.08 °F: no plate prints that.
        nameplate: { targetSubcooling_K: differenceFromFahrenheit(10) },
      },
    ]);
  });
});

describe('createScenarios', () => {
  it('lists what can be read and reports what cannot', () => {
    const folder = mkdtempSync(join(tmpdir(), 'scenarios-'));
    mkdirSync(join(folder, 'not-a-file.json'));
    writeFileSync(join(folder, 'good.json'), JSON.stringify(testScenario()));
    writeFileSync(join(folder, 'bad.json'), '{"kind":"splitSystem"}');
    const reports: string[] = [];
    const scenarios = createScenarios(folder, (what) => reports.push(what));
    expect(scenarios.rows()).toEqual([
      { id: 'good', title: 'Test unit', summary: '', units: ['A'], duration_s: 120 },
    ]);
    expect(reports.sort()).toEqual(['scenario bad.json', 'scenario not-a-file.json']);
    expect(scenarios.get('good').ok).toBe(true);
    expect(scenarios.titled('Test unit').ok).toBe(true);
    expect(scenarios.get('bad')).toMatchObject({ error: { code: 'SCENARIO_REFUSED' } });
    expect(scenarios.titled('bad')).toMatchObject({ error: { code: 'SCENARIO_REFUSED' } });
  });
});
