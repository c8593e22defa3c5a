/**
 * `npm run bench:steadiness`: the labelled sessions of both halves through the engine, our detector
 * and the published ones over the same frames, and the table. Even seeds are for tuning (all of it,
 * ours by hand and the published ones' thresholds here), odd seeds for the verdict. `--quick` takes
 * an eighth of the sessions.
 */
import { analyticSession } from './analytic.ts';
import { capture } from './capture.ts';
import { OURS, PUBLISHED, type Contender, type Setting } from './methods.ts';
import { emptyScore, mergeScores, objective, scoreCase, type Case, type Score } from './score.ts';
import { plantSession } from './plant.ts';
import type { Session } from './session.ts';
import { checkSpans } from './spans.ts';
import { printTable, type Row } from './table.ts';

/** Sessions of each half, by set. */
const PLANT = 140;
const ANALYTIC = 80;
/** Tuning the thresholds of the published methods takes every so many of the tuning half. */
const TUNE_EVERY = 3;
/** Floors of run time: the default of the program, and none, where the evidence stands alone. */
const FLOORS = [600, 0] as const;

type SetName = Session['set'];

interface Half {
  readonly plant: Case[];
  readonly analytic: Case[];
}

const say = (line: string): void => void process.stdout.write(`${line}\n`);

function gather(set: SetName, count: number, parity: 0 | 1): Case[] {
  const make = set === 'plant' ? plantSession : analyticSession;
  return Array.from({ length: count }, (_, i) => {
    const session = make(2 * i + parity, FLOORS[0]);
    const { frames, spans } = capture(session);
    checkSpans(session, frames, spans);
    return { name: `${set} ${session.seed}, ${session.kind}`, frames, truth: session.truth };
  });
}

function half(parity: 0 | 1, share: number): Half {
  return {
    plant: gather('plant', Math.ceil(PLANT * share), parity),
    analytic: gather('analytic', Math.ceil(ANALYTIC * share), parity),
  };
}

function scoreOf(cases: readonly Case[], setting: Setting, minimumRun: number): Score {
  const score = emptyScore();
  for (const item of cases) scoreCase(score, item, setting.make(minimumRun), minimumRun);
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

function main(): void {
  const share = shareOf(process.argv);
  const tuning = half(0, share);
  say(`tuning half (even seeds): ${tuning.plant.length} plant, ${tuning.analytic.length} analytic`);
  const verdict = half(1, share);
  say(
    `verdict half (odd seeds): ${verdict.plant.length} plant, ${verdict.analytic.length} analytic`,
  );
  const tuneCases = [...tuning.plant, ...tuning.analytic].filter((_, i) => i % TUNE_EVERY === 0);
  for (const floor of FLOORS) {
    const chosen = [OURS, ...PUBLISHED].map((contender) => ({
      name: contender.name,
      setting: tune(contender, tuneCases, floor),
    }));
    const rows = (cases: readonly Case[]): Row[] =>
      chosen.map(({ name, setting }) => ({
        name,
        label: setting.label,
        score: scoreOf(cases, setting, floor),
      }));
    say(`\n## Floor of run time ${floor} s`);
    const plant = rows(verdict.plant);
    const analytic = rows(verdict.analytic);
    const both = plant.map((row, i) => ({
      ...row,
      score: mergeScores([row.score, analytic[i]?.score ?? emptyScore()]),
    }));
    printTable(say, 'verdict half, plant and analytic', both);
    printTable(say, 'verdict half, plant only', plant);
    printTable(say, 'verdict half, analytic only', analytic);
    const own = chosen[0];
    if (own === undefined) continue;
    const cases = [...tuning.plant, ...tuning.analytic];
    const score = scoreOf(cases, own.setting, floor);
    printTable(say, 'tuning half, ours', [{ name: own.name, label: own.setting.label, score }]);
  }
}

main();
