/**
 * Thins a line for drawing without losing what the eye looks for: a peak of one sample, the first
 * and last point, and where the line is broken.
 */

/** A point of a line: time in s and value in SI, or null where the line is broken. */
export type Point = readonly [t: number, value: number | null];

/** A line that is read by index, so that a long one need not be copied first. */
export interface Series {
  readonly length: number;
  time(i: number): number;
  /** NaN where the line is broken. */
  value(i: number): number;
}

/** Points one bucket may give: first, smallest, largest, last; and one break. */
const PER_BUCKET = 4;
/** The smallest budget that leaves room for one bucket with a break. */
export const MIN_BUDGET = PER_BUCKET + 1;

/** A list of points as a series. */
export function seriesOf(points: readonly Point[]): Series {
  return {
    length: points.length,
    time: (i) => points[i]?.[0] ?? NaN,
    value: (i) => points[i]?.[1] ?? NaN,
  };
}

/**
 * Divides the time of a line into equal buckets and keeps of each the first, smallest, largest and
 * last value and, where there are any, its first break. Times and values are those of the line,
 * never averaged. A line within the budget comes back whole.
 *
 * @param line points in order of time
 * @param budget the most points wanted
 * @throws Error when the budget is under {@link MIN_BUDGET}
 */
export function decimateMinMax(line: Series, budget: number): Point[] {
  if (budget < MIN_BUDGET) throw new Error(`a line needs a budget of at least ${MIN_BUDGET}`);
  const n = line.length;
  if (n <= budget) return Array.from({ length: n }, (_, i) => pointAt(line, i));
  const buckets = Math.floor(budget / (hasBreak(line) ? PER_BUCKET + 1 : PER_BUCKET));
  const from = line.time(0);
  const width = (line.time(n - 1) - from) / buckets;
  const kept: Point[] = [];
  let i = 0;
  for (let b = 0; b < buckets; b += 1) {
    // The last bucket takes all that is left: rounding must not lose the end.
    const end = b === buckets - 1 ? Infinity : from + (b + 1) * width;
    const start = i;
    while (i < n && line.time(i) < end) i += 1;
    keepBucket(line, start, i, kept);
  }
  return kept;
}

/** Adds what is kept of the points from `start` to before `end`, in order. */
function keepBucket(line: Series, start: number, end: number, kept: Point[]): void {
  let first = -1;
  let last = -1;
  let low = -1;
  let high = -1;
  let gap = -1;
  for (let i = start; i < end; i += 1) {
    const value = line.value(i);
    if (Number.isNaN(value)) {
      if (gap < 0) gap = i;
      continue;
    }
    if (first < 0) first = i;
    last = i;
    if (low < 0 || value < line.value(low)) low = i;
    if (high < 0 || value > line.value(high)) high = i;
  }
  const order = [first, low, high, last, gap].sort((a, b) => a - b);
  let before = -1;
  for (const i of order) {
    if (i > before) kept.push(pointAt(line, i));
    before = Math.max(before, i);
  }
}

function pointAt(line: Series, i: number): Point {
  const value = line.value(i);
  return [line.time(i), Number.isNaN(value) ? null : value];
}

function hasBreak(line: Series): boolean {
  for (let i = 0; i < line.length; i += 1) if (Number.isNaN(line.value(i))) return true;
  return false;
}
