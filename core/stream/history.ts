/**
 * A ring of frames with a fixed number of columns: the last minutes of everything the engine
 * averages. Memory is fixed at creation.
 */

/** The average of one column over a window. */
export interface ColumnAverage {
  readonly mean: number;
  /** Frames with a value. */
  readonly n: number;
  /** Standard uncertainty of the mean from the scatter of block means; NaN with under 2 blocks. */
  readonly uStat: number;
  /** Blocks the scatter was taken over. */
  readonly blocks: number;
}

export interface History {
  /** Adds a frame; NaN where a column has no value. */
  push(t: number, columns: Float64Array): void;
  /**
   * Average of a column over frames with from < t <= to, in `blocks` blocks of equal time.
   * Block means make the uncertainty honest for autocorrelated noise. Null with no value.
   */
  average(column: number, from: number, to: number, blocks: number): ColumnAverage | null;
  /** Time of the oldest frame kept; null when empty. */
  oldest(): number | null;
  /** Time of the newest frame; null when empty. */
  newest(): number | null;
}

/**
 * @param capacity frames kept
 * @param columns columns a frame
 */
export function createHistory(capacity: number, columns: number): History {
  const times = new Float64Array(capacity);
  const data = new Float64Array(capacity * columns);
  let head = 0; // next place to write
  let size = 0;

  const first = (): number => (head - size + capacity) % capacity;

  return {
    push(t, values) {
      times[head] = t;
      data.set(values, head * columns);
      head = (head + 1) % capacity;
      size = Math.min(size + 1, capacity);
    },
    average(column, from, to, blocks) {
      const sums = new Float64Array(blocks);
      const counts = new Int32Array(blocks);
      const width = (to - from) / blocks;
      const start = first();
      for (let i = 0; i < size; i += 1) {
        const at = (start + i) % capacity;
        const t = times[at] ?? NaN;
        const value = data[at * columns + column] ?? NaN;
        if (!(t > from && t <= to) || Number.isNaN(value)) continue;
        const b = Math.min(blocks - 1, Math.max(0, Math.ceil((t - from) / width) - 1));
        sums[b] = (sums[b] ?? 0) + value;
        counts[b] = (counts[b] ?? 0) + 1;
      }
      return averageOfBlocks(sums, counts);
    },
    oldest: () => (size === 0 ? null : (times[first()] ?? null)),
    newest: () => (size === 0 ? null : (times[(head - 1 + capacity) % capacity] ?? null)),
  };
}

/** Mean over all values and its standard uncertainty from the scatter of the block means. */
export function averageOfBlocks(
  sums: ArrayLike<number>,
  counts: ArrayLike<number>,
): ColumnAverage | null {
  let total = 0;
  let n = 0;
  for (let b = 0; b < sums.length; b += 1) {
    total += sums[b] ?? 0;
    n += counts[b] ?? 0;
  }
  if (n === 0) return null;
  const mean = total / n;
  let filled = 0;
  let square = 0;
  for (let b = 0; b < sums.length; b += 1) {
    const c = counts[b] ?? 0;
    if (c === 0) continue;
    filled += 1;
    square += ((sums[b] ?? 0) / c - mean) ** 2;
  }
  const uStat = filled < 2 ? NaN : Math.sqrt(square / (filled - 1) / filled);
  return { mean, n, uStat, blocks: filled };
}
