import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { createEngine } from '../../../../core/engine.ts';
import { createRun } from '../../../../core/plant/run.ts';
import { analyze } from '../../../../electron/headless/analyze.ts';
import { compareFiles } from '../../../../electron/headless/compare.ts';
import { convert } from '../../../../electron/headless/convert.ts';
import { UserError } from '../../../../electron/headless/args.ts';
import { replay } from '../../../../electron/headless/replay.ts';
import { simulate } from '../../../../electron/headless/simulate.ts';
import { createJobFile } from '../../../../electron/jobfile/job-file.ts';
import { parseCsv } from '../../../../electron/sources/csv.ts';
import { testHead, testSession, testUnit } from '../../../support/job.ts';
import { testScenario } from '../../../support/scenario.ts';
import { drawnSession, testConfig } from '../../../support/session.ts';

const by = { author: 'Test person', at: '2026-03-01T09:00:00Z' };
let folder: string;
let out: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'stillpoint-headless-'));
  out = join(folder, 'out.csv');
});
afterEach(() => {
  rmSync(folder, { recursive: true, force: true });
});

function scenarioFile(scenario: unknown): string {
  const path = join(folder, 'scenario.json');
  writeFileSync(path, JSON.stringify(scenario));
  return path;
}

function tableOf(path: string, atmosphere_Pa: number) {
  const table = parseCsv(readFileSync(path, 'utf8'), atmosphere_Pa);
  if (!table.ok) throw new Error(table.error.detail);
  return table.value;
}

const drawn = () =>
  drawnSession({ seed: 3, duration: 200, rate: 1, tau: 60, start: 10, noise: 0.2 });

/** A job of one drawn session with one snapshot at its end. */
function jobFile(name = 'job.stillpoint'): string {
  const path = join(folder, name);
  const job = createJobFile(path, testHead(), [testUnit()], by);
  if (!job.ok) throw new Error(job.error.detail);
  const recorder = job.value.startSession(testSession(), by);
  const engine = createEngine(testConfig());
  const samples = drawn();
  recorder.append('A', samples);
  engine.push(samples);
  const content = engine.snapshot();
  if (!content.ok) throw new Error(content.error.code);
  job.value.addSnapshot({
    id: 'snap',
    sessionId: 'session-1',
    unit: 'A',
    takenAt: by.at,
    label: 'before',
    note: '',
    author: by.author,
    sourceKind: 'simulated',
    programVersion: '0.0.0',
    config: testConfig(),
    content: content.value,
    ...recorder.mark('A'),
  });
  recorder.end(by);
  job.value.close();
  return path;
}

describe('simulate', () => {
  it('writes what the sensors of the plant delivered, to the last bit, and says it is simulated', () => {
    const scenario = testScenario({ site: { name: 'High place', altitude_m: 1500 } });
    const answer = simulate([scenarioFile(scenario), '--out', out, '--units', 'si']) as {
      source: string;
      atmosphere_kPa: number;
    };
    expect(answer.source).toBe('simulated');
    const samples = createRun(scenario).advanceTo(scenario.duration_s)[0]!.samples;
    const table = tableOf(out, answer.atmosphere_kPa * 1000);
    for (const [i, channel] of table.channels.entries()) {
      const values = [...table.values[i]!].filter((value) => !Number.isNaN(value));
      expect(values).toEqual(samples.filter((s) => s.channel === channel).map((s) => s.value));
    }
  });

  it('writes gauge pressures and °F unless told otherwise', () => {
    simulate([scenarioFile(testScenario()), '--out', out]);
    expect(readFileSync(out, 'utf8').split('\n', 1)[0]?.split(',').sort()).toEqual([
      'liquidLineTemp[degF]',
      'liquidPressure[psig]',
      'suctionLineTemp[degF]',
      'suctionPressure[psig]',
      'time[s]',
    ]);
    expect(() =>
      simulate([scenarioFile(testScenario()), '--out', join(folder, 'x.csv'), '--units', 'x']),
    ).toThrow(/one of us, si/);
  });

  it('names the place in a scenario that is wrong, and writes nothing', () => {
    const scenario = { ...testScenario(), refrigerant: 'R-999' };
    expect(() => simulate([scenarioFile(scenario), '--out', out])).toThrow(/at refrigerant/);
    writeFileSync(join(folder, 'bad.json'), '{"kind":');
    expect(() => simulate([join(folder, 'bad.json'), '--out', out])).toThrow(/not JSON/);
    expect(() => simulate([join(folder, 'none.json'), '--out', out])).toThrow(UserError);
    expect(() => simulate([scenarioFile(testScenario()), '--out', out, '--unit', 'B'])).toThrow(
      /no unit B; the units are A/,
    );
    expect(existsSync(out)).toBe(false);
  });

  it('never writes over what it reads, nor over a job', () => {
    const file = scenarioFile(testScenario());
    expect(() => simulate([file])).toThrow(/--out/);
    expect(() => simulate([file, '--out', file])).toThrow(/is the file that is read/);
    expect(() => simulate([file, '--out', jobFile()])).toThrow(/name of a job/);
  });

  it('replaces a table, another file when told to, and says what is wrong with a place', () => {
    const file = scenarioFile(testScenario());
    writeFileSync(out, 'mine');
    expect(() => simulate([file, '--out', out])).toThrow(/is there already .*--force/);
    expect(readFileSync(out, 'utf8')).toBe('mine');
    simulate([file, '--out', out, '--force']);
    expect(readFileSync(out, 'utf8')).toContain('suctionPressure');
    const first = readFileSync(out, 'utf8');
    simulate([file, '--out', out]);
    expect(readFileSync(out, 'utf8')).toBe(first);
    // A logger's own table can be read, but is not ours to replace.
    writeFileSync(out, 'Time (s),Suction Pressure (psig)\n0,118\n');
    expect(() => simulate([file, '--out', out])).toThrow(/is there already .*--force/);
    writeFileSync(out, '');
    simulate([file, '--out', out]);
    expect(readFileSync(out, 'utf8')).toBe(first);
    expect(() => simulate([file, '--out', '/dev/null'])).toThrow(/is not a plain file/);
    expect(() => simulate([file, '--out', folder])).toThrow(/is a folder/);
    const inFile = join(out, 'table.csv');
    expect(() => simulate([file, '--out', inFile])).toThrow(
      `cannot write ${inFile}: a part of its path is a file, not a folder`,
    );
  });
});

describe('convert', () => {
  /** The values of each channel in the table, beside those that were recorded. */
  function columns(units: string) {
    const answer = convert([jobFile(), '--out', out, '--units', units]);
    expect(answer).toMatchObject({ source: 'simulated', session: 'session-1', unit: 'A' });
    const table = tableOf(out, testConfig().gauge.convertedWith);
    expect(table.channels.length).toBeGreaterThan(3);
    return table.channels.map((channel, i) => ({
      read: [...table.values[i]!],
      recorded: drawn().flatMap((s) =>
        s.channel === channel && s.value !== null ? [s.value] : [],
      ),
    }));
  }

  it('writes in SI units what reads back to the same samples, to the last bit', () => {
    for (const { read, recorded } of columns('si')) expect(read).toEqual(recorded);
  });

  it('writes in customary units what reads back to within the last bit', () => {
    for (const { read, recorded } of columns('us')) {
      expect(read.length).toBe(recorded.length);
      read.forEach((value, k) => {
        const lastBit = 2 ** (Math.floor(Math.log2(recorded[k]!)) - 52);
        expect(Math.abs(value - recorded[k]!)).toBeLessThanOrEqual(lastBit);
      });
    }
  });

  it('lists what there is where a session or unit is not there', () => {
    const job = jobFile();
    expect(() => convert([job, '--out', out, '--session', 'x'])).toThrow(/session-1 \(2026/);
    expect(() => convert([job, '--out', out, '--unit', 'Z'])).toThrow(/there are A/);
    expect(existsSync(out)).toBe(false);
  });

  it('gives the reason for which a file is no job', () => {
    const path = join(folder, 'x.stillpoint');
    writeFileSync(path, 'not a job at all, but long enough to be looked at '.repeat(4));
    expect(() => convert([path, '--out', out])).toThrow(/not a Stillpoint job/);
  });
});

describe('replay', () => {
  it('says that every stored snapshot agrees', () => {
    expect(replay([jobFile()])).toMatchObject({
      agrees: true,
      snapshots: [{ id: 'snap', agrees: true, samplesAgree: true, numbersAgree: true }],
      sessions: [{ id: 'session-1', source: 'simulated', unfinished: false }],
    });
  });

  it('leaves the file as it is', () => {
    const path = jobFile();
    const before = readFileSync(path);
    replay([path]);
    expect(readFileSync(path).equals(before)).toBe(true);
  });
});

describe('a table with something the matter', () => {
  const OPTIONS = ['--refrigerant', 'R-410A', '--metering', 'txv', '--mode', 'cooling'];
  const table = (name: string, text: string): string => {
    const path = join(folder, name);
    writeFileSync(path, text);
    return path;
  };
  const HEAD =
    'time[s],suctionPressure[bar],liquidPressure[psig],suctionLineTemp[degF],liquidLineTemp[degF]\n';
  const rows = Array.from({ length: 60 }, (_, t) => `${t},118,340,55,95\n`).join('');
  const NOTES = [
    'line 62: the last line was cut off and is left out; all above it is read',
    'line 2, column 2 (suctionPressure[bar]): 118 bar is out of range (0 to 65 bar); 60 of 60 rows are, and count as gaps: check its unit',
  ];

  it('is analyzed with notes, and the reason names the channel', () => {
    const result = analyze([table('cut.csv', `${HEAD}${rows}60,11`), ...OPTIONS]) as {
      notes: string[];
      states: { reason: string }[];
    };
    expect(result.notes).toEqual(NOTES);
    expect(result.states.at(-1)?.reason).toContain('Look at: Suction pressure.');
  });

  it('is compared with the notes of its unit', () => {
    const sound = table('sound.csv', `${HEAD.replace('[bar]', '[psig]')}${rows}`);
    const cut = table('cut.csv', `${HEAD}${rows}60,11`);
    const { units } = compareFiles([sound, cut, ...OPTIONS]) as { units: { notes: string[] }[] };
    expect(units.map((unit) => unit.notes)).toEqual([[], NOTES]);
  });
});
