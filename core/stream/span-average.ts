import type { ColumnAverage } from './history.ts';

/**
 * Averages a span of any length in constant memory: totals for the means, and Welford's running
 * variance of block means (30 s, or whole periods of a swing) for their uncertainty. The newest block and what follows it are
 * held back until the next block is full, so that a span which ends with a step can leave out the
 * seconds in which the step was under way but not yet seen.
 */
const BLOCK_S = 30;

export interface SpanAverage {
  /** Adds a frame; NaN where a column has no value. */
  push(t: number, columns: Float64Array): void;
  /**
   * Counts what was held back as well: for spans that did not end with a step. Of a swing the part
   * of a period at the end stays out.
   */
  release(): void;
  /** The end of what is counted, s; null when nothing is. */
  to(): number | null;
  /** Blocks that are counted. */
  blocks(): number;
  average(column: number): ColumnAverage | null;
}

/**
 * @param from start of the span, s
 * @param columns columns a frame
 * @param period of a swing, s: averages run over whole periods; 0 without
 */
export function createSpanAverage(from: number, columns: number, period = 0): SpanAverage {
  const blockS = period > 0 ? Math.ceil(BLOCK_S / period) * period : BLOCK_S;
  const totals = new Float64Array(columns);
  const counts = new Float64Array(columns);
  const blocks = new Int32Array(columns);
  const blockMean = new Float64Array(columns);
  const m2 = new Float64Array(columns);
  let open = newBlock(columns, from);
  let held: Block | null = null;
  let end: number | null = null;
  let merged = 0;
  /** When the open block is full, s: counted from the start, so that frames do not shift it. */
  let boundary = from + blockS;

  const merge = (block: Block): void => {
    merged += 1;
    for (let c = 0; c < columns; c += 1) {
      const n = block.counts[c] ?? 0;
      if (n === 0) continue;
      const sum = block.sums[c] ?? 0;
      totals[c] = (totals[c] ?? 0) + sum;
      counts[c] = (counts[c] ?? 0) + n;
      const k = (blocks[c] ?? 0) + 1;
      blocks[c] = k;
      const delta = sum / n - (blockMean[c] ?? 0);
      blockMean[c] = (blockMean[c] ?? 0) + delta / k;
      m2[c] = (m2[c] ?? 0) + delta * (sum / n - (blockMean[c] ?? 0));
    }
    end = block.last;
  };

  return {
    push(t, values) {
      if (t > boundary + 1e-6) {
        while (t > boundary + 1e-6) boundary += blockS;
        if (open.last > open.start) {
          if (held !== null) merge(held);
          held = open;
          open = newBlock(columns, open.last);
        }
      }
      for (let c = 0; c < columns; c += 1) {
        const value = values[c] ?? NaN;
        if (Number.isNaN(value)) continue;
        open.sums[c] = (open.sums[c] ?? 0) + value;
        open.counts[c] = (open.counts[c] ?? 0) + 1;
      }
      open.last = t;
    },
    release() {
      if (held !== null) merge(held);
      held = null;
      const whole = open.last >= boundary - 0.5;
      if (open.last > open.start && (period === 0 || whole)) merge(open);
      open = newBlock(columns, open.last);
    },
    to: () => end,
    blocks: () => merged,
    average(column) {
      const n = counts[column] ?? 0;
      if (n === 0) return null;
      const k = blocks[column] ?? 0;
      const uStat = k < 2 ? NaN : Math.sqrt((m2[column] ?? 0) / (k - 1) / k);
      return { mean: (totals[column] ?? 0) / n, n, uStat, blocks: k };
    },
  };
}

interface Block {
  readonly sums: Float64Array;
  readonly counts: Int32Array;
  readonly start: number;
  last: number;
}

function newBlock(columns: number, start: number): Block {
  return {
    sums: new Float64Array(columns),
    counts: new Int32Array(columns),
    start,
    last: start,
  };
}
