/**
 * `npm run bench:steadiness-cost`: what the engine and its detector cost a sample, at 1 Hz and eight
 * channels, beside a yardstick in the same run: reading the same samples out of CSV text. Both are
 * processor time, so that a busy machine changes them alike. The first rounds also hold what the
 * runtime takes to compile the code: the last line is the middle one of the others.
 */
import { JUDGED, specsFor } from '../../core/circuit/judged.ts';
import { figureColumn } from '../../core/circuit/content.ts';
import { createEngine } from '../../core/engine.ts';
import { createDetector } from '../../core/steadiness/detector.ts';
import type { Frame } from '../../core/steadiness/types.ts';
import type { Sample } from '../../core/stream/sample.ts';
import { drawnSession, testConfig } from '../support/session.ts';

const HOURS = 6;
const ROUNDS = 7;
/** Rounds in which the runtime still compiles. */
const COMPILING = 2;
const CHANNELS = 8;
const config = testConfig();

/** Eight channels once a second: the six that are drawn, and two that go along. */
function session(seed: number): Sample[] {
  const drawn = { seed, duration: HOURS * 3600, rate: 1, tau: 120, start: 120, noise: 0.15 };
  return drawnSession(drawn).flatMap((s): Sample[] => {
    if (s.channel === 'returnAirTemp') return [s, { ...s, channel: 'outdoorAirTemp' }];
    if (s.channel === 'liquidPressure') return [s, { ...s, channel: 'dischargePressure' }];
    return [s];
  });
}

/** The rows of the samples as CSV text, times first. */
function csvOf(samples: readonly Sample[]): string {
  const rows: string[] = [];
  for (let i = 0; i < samples.length; i += CHANNELS) {
    const row = samples.slice(i, i + CHANNELS).map((s) => String(s.value));
    rows.push([String(samples[i]?.t), ...row].join(','));
  }
  return rows.join('\n');
}

/** The yardstick: text to numbers. */
function parse(text: string): number {
  let sum = 0;
  for (const line of text.split('\n')) for (const cell of line.split(',')) sum += Number(cell);
  return sum;
}

function framesOf(samples: readonly Sample[]): Frame[] {
  const frames: Frame[] = [];
  const engine = createEngine(config, (t, columns) => {
    const values = JUDGED.map((key) => columns[figureColumn(key)] ?? NaN);
    frames.push({ t, dt: 1, values, running: t > 120 });
  });
  engine.push(samples);
  engine.finish();
  return frames;
}

/** Microseconds of processor time. */
function cost(work: () => void): number {
  const before = process.cpuUsage();
  work();
  const { user, system } = process.cpuUsage(before);
  return user + system;
}

/** Microseconds a sample. */
interface Costs {
  readonly yardstick: number;
  readonly detector: number;
  readonly engine: number;
}

function costsOf(round: number): Costs {
  const samples = session(round);
  const frames = framesOf(samples);
  const text = csvOf(samples);
  const perSample = (work: () => void): number => cost(work) / samples.length;
  return {
    yardstick: perSample(() => parse(text)),
    detector: perSample(() => {
      const made = createDetector({ specs: specsFor(config), minimumRun: config.minimumRun });
      for (const frame of frames) made.push(frame);
    }),
    engine: perSample(() => {
      const made = createEngine(config);
      made.push(samples);
      made.finish();
    }),
  };
}

function say(name: string, { yardstick, detector, engine }: Costs): void {
  const [text, still, whole] = [yardstick, detector, engine].map((us) => us.toFixed(2));
  const frame = (CHANNELS * detector).toFixed(1);
  process.stdout.write(
    `${name}: CSV text ${text} µs a sample, detector ${still} (${frame} µs a frame), ` +
      `whole engine ${whole}, ${(engine / yardstick).toFixed(1)} times the text\n`,
  );
}

/** The middle one of the rounds. */
function middle(rounds: readonly Costs[], of: (costs: Costs) => number): number {
  return rounds.map(of).sort((a, b) => a - b)[rounds.length >> 1] ?? NaN;
}

function main(): void {
  const compiled: Costs[] = [];
  for (let round = 1; round <= ROUNDS; round += 1) {
    const costs = costsOf(round);
    say(`round ${round}`, costs);
    if (round > COMPILING) compiled.push(costs);
  }
  say(`middle of rounds ${COMPILING + 1} to ${ROUNDS}`, {
    yardstick: middle(compiled, (costs) => costs.yardstick),
    detector: middle(compiled, (costs) => costs.detector),
    engine: middle(compiled, (costs) => costs.engine),
  });
}

main();
