import type { Uncertain } from '../diagnosis/types.ts';
import { studentT95 } from '../circuit/uncertainty.ts';

/**
 * Follows the two pressures of a unit that is off: block means over the last minutes, and how fast
 * each still moves. Constant memory.
 */
const BLOCK_S = 15;
const BLOCKS = 20;
/** Blocks needed before a rate is told. */
const ENOUGH = 6;

/** One pressure as the watch knows it. */
export interface WatchedPressure {
  /** Mean of the newest full block, SI. */
  readonly mean: number;
  /** Rate of change over the window, SI per s, half-width k = 2; null with too few blocks. */
  readonly rate: Uncertain | null;
}

export interface StandingWatch {
  /** Adds a value (SI) at t (s); values of a block are averaged. */
  push(t: number, value: number): void;
  /** Null before the first full block. */
  read(): WatchedPressure | null;
  reset(): void;
}

/** One watch a pressure. */
export function createStandingWatch(): StandingWatch {
  let blocks: { t: number; mean: number }[] = [];
  let start = NaN;
  let sum = 0;
  let sumT = 0;
  let n = 0;
  const reset = (): void => {
    blocks = [];
    start = NaN;
    sum = 0;
    sumT = 0;
    n = 0;
  };
  return {
    push(t, value) {
      if (Number.isNaN(start)) start = t;
      if (t - start >= BLOCK_S && n > 0) {
        blocks.push({ t: sumT / n, mean: sum / n });
        if (blocks.length > BLOCKS) blocks.shift();
        start = t;
        sum = 0;
        sumT = 0;
        n = 0;
      }
      sum += value;
      sumT += t;
      n += 1;
    },
    read() {
      const last = blocks.at(-1);
      if (last === undefined) return null;
      return { mean: last.mean, rate: blocks.length < ENOUGH ? null : slopeOf(blocks) };
    },
    reset,
  };
}

/** Least-squares slope and its half-width from the scatter about the line. */
function slopeOf(points: readonly { t: number; mean: number }[]): Uncertain {
  const n = points.length;
  const tMean = points.reduce((s, p) => s + p.t, 0) / n;
  const yMean = points.reduce((s, p) => s + p.mean, 0) / n;
  let tt = 0;
  let ty = 0;
  for (const p of points) {
    tt += (p.t - tMean) ** 2;
    ty += (p.t - tMean) * (p.mean - yMean);
  }
  const slope = ty / tt;
  const square = points.reduce((s, p) => s + (p.mean - yMean - slope * (p.t - tMean)) ** 2, 0);
  return { value: slope, u: studentT95(n - 2) * Math.sqrt(square / (n - 2) / tt) };
}
