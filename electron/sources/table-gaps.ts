/** A channel is missing where it is silent for longer than this many of its usual intervals. */
const SILENT_INTERVALS = 3;

/**
 * Which empty cells of a column are gaps. A table that puts sensors of unlike rates together is
 * full of cells in which a slow one had nothing to say: nothing is missing there.
 *
 * @param times s, ascending
 * @param values NaN where the cell is empty
 * @returns 1 where a value is missing: the channel never spoke before, or the silence about the cell
 *   lasts longer than three times its usual interval
 */
export function tableGaps(times: Float64Array, values: Float64Array): Uint8Array {
  const gaps = new Uint8Array(values.length);
  if (!values.some(Number.isNaN)) return gaps;
  const spoken: number[] = [];
  values.forEach((value, row) => {
    if (!Number.isNaN(value)) spoken.push(row);
  });
  const at = (row: number | undefined): number | null =>
    row === undefined ? null : (times[row] ?? null);
  const longest = SILENT_INTERVALS * usualInterval(spoken.map((row) => times[row] ?? NaN));
  let next = 0;
  values.forEach((value, row) => {
    while ((spoken[next] ?? Infinity) < row) next += 1;
    if (!Number.isNaN(value)) return;
    const before = at(spoken[next - 1]);
    const after = at(spoken[next]) ?? times.at(-1) ?? NaN;
    gaps[row] = before !== null && after - before <= longest ? 0 : 1;
  });
  return gaps;
}

/** The median time between two values; zero where there are no two. */
export function usualInterval(times: readonly number[]): number {
  // A typed array is sorted in its place and as numbers.
  const intervals = Float64Array.from(times.slice(1), (t, i) => t - (times[i] ?? NaN)).sort();
  return intervals[Math.floor(intervals.length / 2)] ?? 0;
}
