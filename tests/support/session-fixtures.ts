import { mkdirSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { createRun } from '../../core/plant/run.ts';
import type { ChannelKey } from '../../core/stream/channels.ts';
import type { Sample } from '../../core/stream/sample.ts';
import { fromSI, type UnitSymbol } from '../../core/units/symbols.ts';
import { readScenarioFile } from '../../electron/sources/scenario-file.ts';
import { writeExampleJob } from './example-job.ts';

/**
 * Makes the examples in fixtures/sessions from an invented unit: `npm run fixtures:sessions`. The
 * same scenario gives the same tables; the job's numbers are those of the engine that made it.
 */
const FOLDER = 'fixtures/sessions';
const SCENARIO = 'fixtures/scenarios/healthy-start.json';
const STEP_S = 4;

const CHANNELS = [
  'suctionPressure',
  'liquidPressure',
  'suctionLineTemp',
  'liquidLineTemp',
  'outdoorAirTemp',
] as const satisfies ChannelKey[];

interface Dialect {
  readonly name: string;
  readonly separator: string;
  readonly newline: string;
  readonly start: string;
  readonly pressure: UnitSymbol;
  readonly temperature: UnitSymbol;
  readonly decimals: readonly [pressure: number, temperature: number];
  readonly time: { readonly header: string; readonly text: (t: number) => string };
  readonly cell: (text: string) => string;
}

const plain = (text: string): string => text;
const seconds = { header: 'time[s]', text: String };

const DIALECTS: readonly Dialect[] = [
  {
    name: 'settling-comma.csv',
    separator: ',',
    newline: '\n',
    start: '',
    pressure: 'psig',
    temperature: 'degF',
    decimals: [1, 1],
    time: seconds,
    cell: plain,
  },
  {
    name: 'settling-semicolon.csv',
    separator: ';',
    newline: '\r\n',
    start: '\uFEFF',
    pressure: 'barg',
    temperature: 'degC',
    decimals: [3, 2],
    time: seconds,
    cell: (text) => text.replace('.', ','),
  },
  {
    name: 'settling-tab.csv',
    separator: '\t',
    newline: '\n',
    start: '',
    pressure: 'kPa',
    temperature: 'K',
    decimals: [1, 2],
    time: {
      header: 'time',
      text: (t) => new Date(Date.UTC(2026, 5, 1, 9) + t * 1000).toISOString(),
    },
    cell: (text) => (text === '' ? '' : `"${text}"`),
  },
];

/** The last value of each channel in every step; null where it did not speak. */
function steps(samples: readonly Sample[]): Map<ChannelKey, number>[] {
  const rows: Map<ChannelKey, number>[] = [];
  for (const { channel, t, value } of samples) {
    const row = Math.floor(t / STEP_S);
    if (value !== null) (rows[row] ??= new Map()).set(channel, value);
  }
  return rows;
}

function tableText(d: Dialect, rows: readonly Map<ChannelKey, number>[]): string {
  const unitOf = (channel: ChannelKey) =>
    channel.endsWith('Pressure')
      ? ([d.pressure, d.decimals[0]] as const)
      : ([d.temperature, d.decimals[1]] as const);
  const header = [d.time.header, ...CHANNELS.map((c) => `${c}[${unitOf(c)[0]}]`)];
  const lines = rows.map((row, i) => [
    d.cell(d.time.text(i * STEP_S)),
    ...CHANNELS.map((channel) => {
      const si = row.get(channel);
      const [unit, decimals] = unitOf(channel);
      return d.cell(si === undefined ? '' : fromSI(si, unit, 101_325).toFixed(decimals));
    }),
  ]);
  const text = [header.map((h) => (d.separator === '\t' ? `"${h}"` : h)), ...lines];
  return d.start + text.map((cells) => cells.join(d.separator) + d.newline).join('');
}

const scenario = readScenarioFile(SCENARIO);
if (!scenario.ok) throw new Error(scenario.error);
const samples = createRun(scenario.value).advanceTo(scenario.value.duration_s)[0]?.samples ?? [];
mkdirSync(FOLDER, { recursive: true });
const rows = steps(samples);
for (const dialect of DIALECTS) {
  writeFileSync(join(FOLDER, dialect.name), tableText(dialect, rows));
}
const job = join(FOLDER, 'simulated.stillpoint');
rmSync(job, { force: true });
writeExampleJob(job, samples, scenario.value.title);
