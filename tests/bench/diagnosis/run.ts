import { spawn } from 'node:child_process';
import { judgeUnit } from '../../../core/checks/running.ts';
import { conditionsOf } from '../../../core/diagnosis/conditions.ts';
import { residualsOf } from '../../../core/diagnosis/evidence.ts';
import type { Residual } from '../../../core/diagnosis/likelihood.ts';
import { expectationsFor } from '../../../core/diagnosis/expectations.ts';
import { featuresOf } from '../../../core/diagnosis/features.ts';
import { bySuspect } from '../../../core/diagnosis/suspects.ts';
import { casesOf, designOf, HALVES, visitsOf, type Case, type Half } from './cases.ts';
import {
  labelledInput,
  labelOf,
  SENSOR_CLASSES,
  wrongInstrument,
  wrongRefrigerant,
  type ChannelSet,
  type LabelledInput,
} from './readings.ts';
import { printComparison, printReport, printWholeWay } from './report.ts';
import { ruleTable } from './rule-table.ts';
import { accuracy, falseAlarm, type Scored } from './score.ts';
import { stampOf, truthsOf, type Truth } from './truths.ts';
import { wholeWay } from './whole.ts';

/** Readings of every case by each sensor class with this many sets of instruments. */
const DRAWS = 2;

interface HalfData {
  readonly cases: readonly Case[];
  readonly truths: readonly Truth[];
  readonly visits: ReadonlyMap<string, { readonly case: Case; readonly truth: Truth }>;
}

function load(half: Half, stamp: string): HalfData {
  const cases = casesOf(half);
  const visitCases = visitsOf(cases, half);
  const truths = truthsOf([...cases, ...visitCases], half, stamp);
  const visits = new Map(
    visitCases.flatMap((visit, i) => {
      const truth = truths[cases.length + i];
      return truth === undefined ? [] : [[designOf(visit), { case: visit, truth }] as const];
    }),
  );
  return { cases, truths: truths.slice(0, cases.length), visits };
}

/** All labelled readings of a half: the faults, and from the healthy ones two more kinds. */
function inputs(data: HalfData, set: ChannelSet, known: 'rules' | 'baseline'): LabelledInput[] {
  const all: LabelledInput[] = [];
  data.cases.forEach((c, i) => {
    const truth = data.truths[i];
    // A unit that never ran in the averaged minutes (locked out) leaves nothing to read.
    if (truth?.channels.suctionPressure === undefined) return;
    // A stuck valve that does what a sound one would is no case.
    if (c.fault === 'valveStuck' && labelOf(c, truth) === 'nothingWrong') return;
    const visit = known === 'baseline' ? (data.visits.get(designOf(c)) ?? null) : null;
    for (const sensors of SENSOR_CLASSES) {
      for (let draw = 0; draw < DRAWS; draw += 1) {
        const options = { sensors, set, draw, visit };
        all.push(labelledInput(c, truth, options));
        if (c.label !== 'nothingWrong' || draw > 0) continue;
        if (i % 3 === 0) all.push(wrongInstrument(c, truth, options));
        if (i % 6 === 1) all.push(wrongRefrigerant(c, truth, options));
      }
    }
  });
  return all;
}

function scoreOurs({ label, severity, input }: LabelledInput): Scored {
  const { diagnosis } = judgeUnit(input).judgement;
  const found = new Map(diagnosis.suspects.map((s) => [s.key, s.probability]));
  return {
    label,
    severity,
    mode: input.config.mode,
    metering: input.config.metering,
    ranked: diagnosis.suspects.map((s) => s.key),
    probability: bySuspect((key) => found.get(key) ?? 0),
    answer: diagnosis.answer,
  };
}

/** The residuals of a reading as ours sees them: the same for the rule table. */
function residuals(item: LabelledInput): Residual[] {
  const { config, content } = item.input;
  const { judgement, readable } = judgeUnit(item.input);
  if (!readable) return [];
  const expectations = expectationsFor(
    item.input,
    conditionsOf(content, config),
    judgement.targets,
  );
  return residualsOf(featuresOf(content, config), expectations);
}

function scoreRules(item: LabelledInput, seen: readonly Residual[], factor: number): Scored {
  const { config } = item.input;
  const ranked = ruleTable(seen, config.metering, factor);
  const [first] = ranked;
  return {
    label: item.label,
    severity: item.severity,
    mode: config.mode,
    metering: config.metering,
    ranked,
    probability: bySuspect((key) => (key === first ? 1 : 0)),
    answer: first === 'nothingWrong' ? 'nothingWrong' : 'suspect',
  };
}

/**
 * The threshold of the rule table with the best top-1 accuracy on the tuning half among those that
 * raise no more than 2 % false alarms there; the quietest where none is so quiet.
 */
function tunedFactor(tuning: readonly LabelledInput[]): number {
  const seen = tuning.map(residuals);
  let best = { factor: 8, top1: -1 };
  for (let factor = 0.5; factor <= 8; factor += 0.25) {
    const scored = tuning.map((item, i) => scoreRules(item, seen[i] ?? [], factor));
    const { top1 } = accuracy(scored);
    if (falseAlarm(scored).rate <= 0.02 && top1 > best.top1) best = { factor, top1 };
  }
  return best.factor;
}

/** Plays the halves beside each other: the plant takes most of the time. */
async function playBoth(stamp: string): Promise<void> {
  const play = (half: Half): Promise<void> =>
    new Promise((resolve, reject) => {
      const child = spawn('npx', ['tsx', 'tests/bench/diagnosis/run.ts', 'play', half, stamp], {
        stdio: ['ignore', 'ignore', 'inherit'],
      });
      child.on('error', reject);
      child.on('exit', (code) => {
        if (code === 0) resolve();
        else reject(new Error(`playing ${half} ended with ${code}`));
      });
    });
  await Promise.all((Object.keys(HALVES) as Half[]).map(play));
}

function report(tuning: HalfData, judged: HalfData): void {
  for (const known of ['rules', 'baseline'] as const) {
    for (const set of ['all', 'half'] as const) {
      const items = inputs(judged, set, known);
      const ours = items.map(scoreOurs);
      const factor = tunedFactor(inputs(tuning, set, known));
      const rules = items.map((item) => scoreRules(item, residuals(item), factor));
      printComparison(known, set, ours, rules, factor);
      if (set === 'all') printReport(ours);
    }
  }
}

/** Sessions of the verdict half that also go the whole way, spread evenly over it. */
const WHOLE_WAY = 60;

/** The same sessions from the means of the truth and from the stream through the engine. */
function reportWholeWay(judged: HalfData): void {
  const step = judged.cases.length / WHOLE_WAY;
  const means: Scored[] = [];
  const streams: Scored[] = [];
  let nothing = 0;
  for (let k = 0; k < WHOLE_WAY; k += 1) {
    const at = Math.floor((k + 0.5) * step);
    const c = judged.cases[at];
    const truth = judged.truths[at];
    if (c === undefined || truth?.channels.suctionPressure === undefined) continue;
    if (c.fault === 'valveStuck' && labelOf(c, truth) === 'nothingWrong') continue;
    const sensors = k % 2 === 0 ? 'good' : 'usual';
    const options = { sensors, set: 'all', draw: 1, visit: null } as const;
    const whole = wholeWay(c, truth, sensors);
    if (whole === null) {
      nothing += 1;
      continue;
    }
    means.push(scoreOurs(labelledInput(c, truth, options)));
    streams.push(scoreOurs(whole));
    process.stderr.write(`whole way: ${k + 1} of ${WHOLE_WAY}\r`);
  }
  printWholeWay(means, streams, nothing);
}

const [verb, half, given] = process.argv.slice(2);
if (verb === '--tuning') {
  // For work on the tables: the verdict half stays closed.
  const data = load('tuning', stampOf());
  report(data, data);
} else if (verb === 'play' && (half === 'tuning' || half === 'verdict') && given !== undefined) {
  load(half, given);
} else {
  const stamp = stampOf();
  await playBoth(stamp);
  const judged = load('verdict', stamp);
  report(load('tuning', stamp), judged);
  reportWholeWay(judged);
}
