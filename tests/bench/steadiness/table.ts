import { quantile, type Score } from './score.ts';

export interface Row {
  readonly name: string;
  readonly label: string;
  readonly score: Score;
}

const share = (a: number, b: number): string => (b > 0 ? `${((100 * a) / b).toFixed(1)} %` : '-');
const pair = (numbers: readonly number[], unit: string): string =>
  numbers.length === 0
    ? '-'
    : `${quantile(numbers, 0.5).toFixed(0)} / ${quantile(numbers, 0.9).toFixed(0)} ${unit}`;

const COLUMNS: readonly (readonly [string, (s: Score) => string])[] = [
  ['false settled', (s) => `${s.wrong} of ${s.declarations} = ${share(s.wrong, s.declarations)}`],
  ['false before an early end', (s) => `${s.briefWrong} of ${s.brief}`],
  ['delay median / p90', (s) => pair(s.delays, 's')],
  ['missed', (s) => `${s.missed} of ${s.settlings}`],
  [
    'error of average median / p95',
    (s) =>
      `${(quantile(s.errors, 0.5) * 1.8).toFixed(2)} / ${(quantile(s.errors, 0.95) * 1.8).toFixed(2)} °F`,
  ],
  ['95 % intervals hold', (s) => share(s.covered, s.intervals)],
  ['disturbances noticed', (s) => `${s.noticed.length} of ${s.events}`],
  ['delay median / p90', (s) => pair(s.noticed, 's')],
  ['false alarms', (s) => (s.events > 0 ? String(s.falseAlarms) : '-')],
  ['time left off by median / p90', (s) => pair(s.forecastErrors, 's')],
  ['90 % intervals of it hold', (s) => share(s.forecastsHeld, s.forecasts)],
];

/** Prints a Markdown table of methods or families. */
export function printTable(say: (line: string) => void, title: string, rows: readonly Row[]): void {
  say(`\n### ${title}`);
  say(`| method | setting | ${COLUMNS.map(([head]) => head).join(' | ')} |`);
  say(`|${'---|'.repeat(COLUMNS.length + 2)}`);
  for (const { name, label, score } of rows) {
    say(`| ${name} | ${label} | ${COLUMNS.map(([, cell]) => cell(score)).join(' | ')} |`);
  }
}
