import { channelIndex } from '../stream/channel-index.ts';
import { figureColumn } from './content.ts';
import type { LoneStep, SlipperyClamp } from './types.ts';

/**
 * Notices a pipe clamp that moved alone. What happens in a circuit moves its pressures too: where the
 * temperature of a line jumps while both saturation temperatures and the other clamp stand still, and have
 * stood still for a while, it is the clamp that moved (slipped, fell off, or was put on again) and not the
 * refrigerant: one that is added passes the suction side first, and the liquid line follows it. Common
 * practice, no source; the widths are our own choice.
 */

/** After a start lines come to their temperatures one by one, the pressures already there, s. */
const START_S = 300;
/** Means are taken over so long, s. */
const BLOCK_S = 10;
/** Blocks: looked at last; left out, for the clamp's own lag; before; and earlier still. */
const AFTER = 2;
const GUARD = 6;
const BEFORE = 3;
const EARLIER = 9;
/** Blocks whose mean is compared: of one alone the noise is too large. */
const GROUP = 3;
const BLOCKS = AFTER + GUARD + BEFORE + EARLIER;
/** Least step of a clamp that is worth a word, K: a suction line moves more by itself. */
const LEAST: Readonly<Record<SlipperyClamp, number>> = { liquidLineTemp: 3.5, suctionLineTemp: 6 };
/**
 * Which way a clamp goes that comes off: towards the air about it, which is warmer than a suction line and
 * colder than a liquid line, in cooling and in heating. The other way a clamp is put on, or it was no clamp.
 */
const AWAY: Readonly<Record<SlipperyClamp, 1 | -1>> = { liquidLineTemp: -1, suctionLineTemp: 1 };
/** Everything else moved by no more than this share of it, nor more than so many K. */
const SHARE = 0.15;
const MOST_K = 0.8;

const CLAMPS = ['liquidLineTemp', 'suctionLineTemp'] as const;
/** The clamps, then the saturation that each of them is read against, in the same order. */
const COLUMNS = [
  ...CLAMPS.map(channelIndex),
  figureColumn('liquidSaturation'),
  figureColumn('suctionSaturation'),
];

/** Mean of the blocks [from, from + n) of a column; NaN where one is missing. */
function meanOf(column: readonly number[], from: number, n: number): number {
  let sum = 0;
  for (let i = from; i < from + n; i += 1) sum += column[i] ?? NaN;
  return sum / n;
}

/** Whether a column stood, from its earliest block up to `to`, within so many K of what it was before. */
function stood(column: readonly number[], to: number, little: number): boolean {
  const level = meanOf(column, EARLIER, BEFORE);
  for (let from = 0; from + GROUP <= to; from += GROUP) {
    if (!(Math.abs(meanOf(column, from, GROUP) - level) <= little)) return false;
  }
  return true;
}

/** Whether a column is, in its latest blocks, within so many K of what it was before. */
function isBack(column: readonly number[], little: number): boolean {
  const change = meanOf(column, BLOCKS - AFTER, AFTER) - meanOf(column, EARLIER, BEFORE);
  return Math.abs(change) <= little;
}

/** A clamp over its saturation, mean of n blocks. */
function over(means: readonly (readonly number[])[], k: number, from: number, n: number): number {
  return meanOf(means[k] ?? [], from, n) - meanOf(means[k + CLAMPS.length] ?? [], from, n);
}

/** Whether a clamp reads, in each of its latest blocks, what it read before it moved. */
function isPutBack(means: readonly (readonly number[])[], { last, level }: Steps): boolean {
  const k = CLAMPS.indexOf(last.channel);
  const little = LEAST[last.channel] / 2;
  return [1, 2, 3].every((i) => Math.abs(over(means, k, BLOCKS - i, 1) - level) <= little);
}

/** Watches the clamps of one unit. */
export interface ClampWatch {
  /**
   * Takes a frame.
   * @param t its end, s
   * @param columns of the frame, channels first, then figures, SI; NaN where absent
   * @param running whether the unit runs: a stop forgets, since clamps are set right while it stands
   */
  push(t: number, columns: ArrayLike<number>, running: boolean | null): void;
  /** The clamps that moved alone since the unit started, and were not put back. */
  moved(): readonly LoneStep[];
}

/** One watch a stream; fixed memory. */
export function createClampWatch(): ClampWatch {
  /** Block means by column, newest last. */
  const means: number[][] = COLUMNS.map(() => []);
  const sums = new Float64Array(COLUMNS.length);
  const counts = new Int32Array(COLUMNS.length);
  let blockEnd = NaN;
  let startedAt = NaN;
  let steps: readonly Steps[] = [];

  const clear = (): void => {
    for (const column of means) column.length = 0;
    sums.fill(0);
    counts.fill(0);
  };

  const look = (t: number): void => {
    // Not while the step itself is seen coming; a clamp that is put back need not have stood still before.
    const seen = BLOCK_S * (AFTER + GUARD);
    steps = steps.filter((known) => t - known.since <= seen || !isPutBack(means, known));
    CLAMPS.forEach((channel, k) => {
      const own = means[k] ?? [];
      const by = meanOf(own, BLOCKS - AFTER, AFTER) - meanOf(own, EARLIER, BEFORE);
      // NaN (a column that is missing) fails every comparison.
      if (!(Math.abs(by) >= LEAST[channel])) return;
      const little = Math.min(MOST_K, SHARE * Math.abs(by));
      const others = means.every(
        (column, other) =>
          other === k ||
          // The other clamp may not be there at all; the saturations must be.
          (other < CLAMPS.length && Number.isNaN(meanOf(column, 0, BLOCKS))) ||
          (stood(column, BLOCKS - AFTER, little) && isBack(column, little)),
      );
      if (others && stood(own, EARLIER, little))
        steps = joined(
          steps,
          { channel, by, at: t - BLOCK_S * (AFTER + 1) },
          over(means, k, EARLIER, BEFORE),
        );
    });
  };

  const close = (t: number): void => {
    means.forEach((column, i) => {
      const n = counts[i] ?? 0;
      column.push(n === 0 ? NaN : (sums[i] ?? 0) / n);
      if (column.length > BLOCKS) column.shift();
    });
    sums.fill(0);
    counts.fill(0);
    if ((means[0]?.length ?? 0) === BLOCKS) look(t);
  };

  return {
    push(t, columns, running) {
      if (running === false) {
        clear();
        steps = [];
        blockEnd = NaN;
        startedAt = NaN;
        return;
      }
      if (Number.isNaN(startedAt)) startedAt = t;
      if (t - startedAt < START_S) return;
      // After a break, or a clock set back, blocks do not follow each other.
      if (!(t <= blockEnd + BLOCK_S && t >= blockEnd - BLOCK_S)) {
        clear();
        blockEnd = t + BLOCK_S;
      }
      if (t > blockEnd) {
        close(blockEnd);
        blockEnd += BLOCK_S;
      }
      COLUMNS.forEach((column, i) => {
        const value = columns[column] ?? NaN;
        if (Number.isNaN(value)) return;
        sums[i] = (sums[i] ?? 0) + value;
        counts[i] = (counts[i] ?? 0) + 1;
      });
    },
    moved: () =>
      steps.flatMap(({ before, last, since }) => {
        const by = before + last.by;
        return AWAY[last.channel] * by >= LEAST[last.channel] ? [{ ...last, by, at: since }] : [];
      }),
  };
}

/** All steps of one clamp: the sum of those that are over, and the latest. */
interface Steps {
  readonly before: number;
  readonly last: LoneStep;
  readonly since: number;
  /** What it read over its saturation before the first of them, K. */
  readonly level: number;
}

/** A step is seen over several blocks: the largest view of it tells its size. */
function joined(known: readonly Steps[], step: LoneStep, level: number): readonly Steps[] {
  const rest = known.filter(({ last }) => last.channel !== step.channel);
  const own = known.find(({ last }) => last.channel === step.channel);
  if (own === undefined) return [...rest, { before: 0, last: step, since: step.at, level }];
  const { last } = own;
  if (step.at - last.at <= BLOCK_S * (AFTER + GUARD)) {
    const by = Math.abs(step.by) > Math.abs(last.by) ? step.by : last.by;
    return [...rest, { ...own, last: { ...last, by } }];
  }
  // A clamp that was put on is where it belongs: what came before is over.
  const before = own.before + last.by;
  return AWAY[step.channel] * before > 0
    ? [...rest, { ...own, before, last: step }]
    : [...rest, { before: 0, last: step, since: step.at, level }];
}
