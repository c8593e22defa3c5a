import { createHash } from 'node:crypto';
import { mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { createRun } from '../../../core/plant/run.ts';
import { ScenarioSchema } from '../../../core/plant/scenario.ts';
import type { SplitTruth } from '../../../core/plant/truth.ts';
import type { ChannelKey } from '../../../core/stream/channels.ts';
import { scenarioOf, type Case } from './cases.ts';

/** What the plant of a case came to: mean true readings and how it behaved. */
export interface Truth {
  readonly id: string;
  readonly channels: Partial<Record<ChannelKey, number>>;
  /** Largest less smallest superheat over the averaged minutes, K. */
  readonly swing_K: number;
  /** Share of the last half hour in which the compressor ran, and its starts in it. */
  readonly ran: number;
  readonly starts: number;
  /** Median length of a finished run, s. */
  readonly medianRun: number | null;
  /** Ice on the indoor coil, kg. */
  readonly frost: number;
}

const WATCH_FROM_S = 1600;
const AVERAGE_FROM_S = 3000;
const UNTIL_S = 3600;
const STEP_S = 5;

const READ: Partial<Record<ChannelKey, (t: SplitTruth) => number>> = {
  suctionPressure: (t) => t.suctionPressure,
  liquidPressure: (t) => t.liquidPressure,
  suctionLineTemp: (t) => t.tSuctionLine,
  liquidLineTemp: (t) => t.tLiquidLine,
  dischargeLineTemp: (t) => t.tDischargeLine,
  outdoorAirTemp: (t) => t.tOutdoorAir,
  returnAirTemp: (t) => t.tReturnAir,
  returnAirHumidity: (t) => t.returnHumidity,
  supplyAirTemp: (t) => t.tSupplyAir,
  compressorCurrent: (t) => t.compressorCurrent_A,
  drierInletTemp: (t) => t.tDrierInlet,
  drierOutletTemp: (t) => t.tDrierOutlet,
};
const CHANNELS = Object.keys(READ) as ChannelKey[];

function play(c: Case): Truth {
  const run = createRun(ScenarioSchema.parse(scenarioOf(c)));
  const sums = new Map<ChannelKey, number>();
  let n = 0;
  let low = Infinity;
  let high = -Infinity;
  let ran = 0;
  let looks = 0;
  let starts = 0;
  let running = true;
  let since: number | null = null;
  const runs: number[] = [];
  let frost = 0;
  for (let t = WATCH_FROM_S; t <= UNTIL_S; t += STEP_S) {
    run.advanceTo(t);
    const truth = run.truth('A');
    if (truth.kind !== 'splitSystem') throw new Error('not a split system');
    looks += 1;
    if (truth.running) ran += 1;
    if (truth.running && !running) {
      starts += 1;
      since = t;
    }
    if (!truth.running && running && since !== null) runs.push(t - since);
    running = truth.running;
    frost = truth.frostIndoor_kg;
    if (t < AVERAGE_FROM_S || !truth.running) continue;
    n += 1;
    low = Math.min(low, truth.superheat);
    high = Math.max(high, truth.superheat);
    for (const key of CHANNELS) sums.set(key, (sums.get(key) ?? 0) + (READ[key]?.(truth) ?? NaN));
  }
  const channels = Object.fromEntries([...sums].map(([key, sum]) => [key, sum / n]));
  runs.sort((a, b) => a - b);
  const medianRun = runs[Math.floor(runs.length / 2)] ?? null;
  return { id: c.id, channels, swing_K: high - low, ran: ran / looks, starts, medianRun, frost };
}

const CACHE = 'out/bench';

/** Hash of all that decides the truths: the plant, the curves, the cases. */
export function stampOf(): string {
  const hash = createHash('sha256');
  for (const folder of ['core/plant', 'core/refrigerant', 'core/refrigerant/data']) {
    for (const name of readdirSync(folder).sort()) {
      if (/\.(ts|json)$/.test(name)) hash.update(readFileSync(join(folder, name)));
    }
  }
  hash.update(readFileSync('tests/bench/diagnosis/cases.ts'));
  hash.update(readFileSync('tests/bench/diagnosis/truths.ts'));
  return hash.digest('hex').slice(0, 16);
}

/**
 * Plays all cases, or takes them from the last run of the same plant (out/ is not kept in git).
 *
 * @param stamp of the plant as it was when the bench began
 */
export function truthsOf(cases: readonly Case[], name: string, stamp: string): Truth[] {
  mkdirSync(CACHE, { recursive: true });
  const file = join(CACHE, `diagnosis-${name}-${stamp}.json`);
  try {
    return JSON.parse(readFileSync(file, 'utf8')) as Truth[];
  } catch {
    const truths = cases.map((c, i) => {
      if (i % 25 === 0) process.stderr.write(`${name}: ${i} of ${cases.length} played\r`);
      return play(c);
    });
    writeFileSync(file, JSON.stringify(truths));
    return truths;
  }
}
