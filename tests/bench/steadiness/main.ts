/**
 * `npm run bench:steadiness`: the labelled sessions of both halves through the engine, our detector
 * and the published ones over the same frames, and the tables. Even seeds are for tuning (all of it,
 * ours by hand and the published ones' thresholds here), odd seeds for the verdict. `--quick` takes
 * an eighth of the sessions of every family, `--share=0.4` as much as it says; `--tuning` leaves the
 * verdict half alone.
 */
import { specsFor } from '../../../core/circuit/judged.ts';
import { framesOf, spansOf } from './capture.ts';
import { makeSession, seedsOf } from './families.ts';
import { OURS, PUBLISHED, type Contender, type Setting } from './methods.ts';
import { printReadings, readingsOf, type Held, type ReadingRow } from './readings.ts';
import { emptyScore, mergeScores, objective, scoreCase, type Case, type Score } from './score.ts';
import { FAMILIES, type Family } from './session.ts';
import { checkSpans } from './spans.ts';
import { printTable, type Row } from './table.ts';

/** Tuning the thresholds of the published methods takes every so many of the tuning half. */
const TUNE_EVERY = 4;
/** Every so many sessions it is checked that the bench's states are the engine's. */
const CHECK_EVERY = 6;
/** Floors of run time: the default of the program, and none, where the evidence stands alone. */
const FLOORS = [600, 0] as const;

interface Item extends Case {
  /** Readings of snapshots, with the instruments' own errors. */
  readonly readings: readonly Held[];
}
type Half = Readonly<Record<Family, readonly Item[]>>;
type Scores = Readonly<Record<Family, Score>>;

interface Chosen {
  readonly name: string;
  readonly setting: Setting;
}

const say = (line: string): void => void process.stdout.write(`${line}\n`);

function byFamily<T>(of: (family: Family) => T): Record<Family, T> {
  return Object.fromEntries(FAMILIES.map((f) => [f, of(f)])) as Record<Family, T>;
}

function gather(family: Family, parity: 0 | 1, share: number): Item[] {
  return seedsOf(family, parity, share).map((seed) => {
    const session = makeSession(family, seed, FLOORS[0]);
    const frames = framesOf(session);
    if (seed % CHECK_EVERY === parity) checkSpans(session, frames, spansOf(session));
    const { truth, kind, config } = session;
    const readings = readingsOf(session);
    return { name: `${family} ${seed}, ${kind}`, frames, truth, specs: specsFor(config), readings };
  });
}

function half(name: string, parity: 0 | 1, share: number): Half {
  const cases = byFamily((family) => gather(family, parity, share));
  say(`${name}: ${FAMILIES.map((f) => `${cases[f].length} ${f}`).join(', ')}`);
  return cases;
}

function scoreOf(cases: readonly Case[], setting: Setting, minimumRun: number): Score {
  const score = emptyScore();
  for (const item of cases) {
    scoreCase(score, item, setting.make(minimumRun, item.specs), minimumRun);
  }
  return score;
}

function tune(contender: Contender, cases: readonly Case[], minimumRun: number): Setting {
  let best = contender.settings[0];
  let least = Infinity;
  if (contender.settings.length > 1) {
    for (const setting of contender.settings) {
      const value = objective(scoreOf(cases, setting, minimumRun));
      if (value >= least) continue;
      least = value;
      best = setting;
    }
  }
  if (best === undefined) throw new Error(`${contender.name} has no setting`);
  return best;
}

/** Share of the sessions to be run: all, an eighth with `--quick`, or `--share=0.4`. */
function shareOf(args: readonly string[]): number {
  if (args.includes('--quick')) return 1 / 8;
  const given = args.find((arg) => arg.startsWith('--share='))?.slice('--share='.length);
  const share = given === undefined ? 1 : Number(given);
  if (!(share > 0 && share <= 1))
    throw new Error(`--share must be above 0 and at most 1: ${given}`);
  return share;
}

function scoresOf(cases: Half, setting: Setting, floor: number): Scores {
  return byFamily((family) => scoreOf(cases[family], setting, floor));
}

/** Tables of one half: all methods over everything and over the plant, ours by family. */
function printHalf(name: string, cases: Half, chosen: readonly Chosen[], floor: number): void {
  const scored = chosen.map(({ name: method, setting }) => ({
    name: method,
    label: setting.label,
    scores: scoresOf(cases, setting, floor),
  }));
  const rows = (families: readonly Family[]): Row[] =>
    scored.map(({ name: method, label, scores }) => ({
      name: method,
      label,
      score: mergeScores(families.map((family) => scores[family])),
    }));
  printTable(say, `${name}, all sessions`, rows(FAMILIES));
  for (const line of rows(FAMILIES)[0]?.score.wrongIn ?? []) say(`ours false: ${line}`);
  if (scored.length > 1) {
    printTable(say, `${name}, plant only`, rows(FAMILIES.filter((f) => f !== 'analytic')));
  }
  const [own] = scored;
  if (own === undefined) return;
  const families = FAMILIES.map((f) => ({ name: f, label: own.label, score: own.scores[f] }));
  printTable(say, `${name}, ours by family`, families);
}

/** Whether the readings' own uncertainty holds the truth: all, by family, quantity and law. */
function printHeld(name: string, cases: Half): void {
  const of = (family: Family): Held[] => cases[family].flatMap((item) => item.readings);
  const all = FAMILIES.flatMap(of);
  const snapshots = all.filter((h) => h.from === 'snapshot');
  const rows: ReadingRow[] = [
    { name: 'all snapshots', held: snapshots },
    ...FAMILIES.map((f) => ({ name: f, held: of(f).filter((h) => h.from === 'snapshot') })),
    ...(['superheat', 'subcooling'] as const).map((quantity) => ({
      name: quantity,
      held: snapshots.filter((h) => h.quantity === quantity),
    })),
    { name: 'settled spans, averaged', held: all.filter((h) => h.from === 'span') },
  ];
  printReadings(say, `${name}, readings with their uncertainty (floor ${FLOORS[0]} s)`, rows);
}

function main(): void {
  const share = shareOf(process.argv);
  const tuningOnly = process.argv.includes('--tuning');
  const tuning = half('tuning half (even seeds)', 0, share);
  const verdict = tuningOnly ? null : half('verdict half (odd seeds)', 1, share);
  const tuneCases = FAMILIES.flatMap((f) => tuning[f]).filter((_, i) => i % TUNE_EVERY === 0);
  printHeld('tuning half', tuning);
  if (verdict !== null) printHeld('verdict half', verdict);
  for (const floor of FLOORS) {
    say(`\n## Floor of run time ${floor} s`);
    const choose = (contender: Contender): Chosen => ({
      name: contender.name,
      setting: tune(contender, tuneCases, floor),
    });
    if (verdict !== null) {
      printHalf('verdict half', verdict, [OURS, ...PUBLISHED].map(choose), floor);
    }
    printHalf('tuning half', tuning, [choose(OURS)], floor);
  }
}

main();
