/**
 * Puts lines with their own times onto one common row of times, as the chart library wants them.
 * Every point keeps its value and moves in time by less than two rows (about two pixels); between
 * two points of a line the rows lie on the straight line through them; a gap stays a gap.
 */

type Points = readonly (readonly [t: number, value: number | null])[];

/** One row: its time and the value of each line (null where it has none). */
export interface AlignedRow {
  readonly t: number;
  readonly values: readonly (number | null)[];
}

/**
 * @param lines points of each line, ascending in time
 * @param from first time, s
 * @param to last time, s; after `from`
 * @param rows number of rows, at least 2
 */
export function alignLines(
  lines: readonly Points[],
  from: number,
  to: number,
  rows: number,
): readonly AlignedRow[] {
  const step = (to - from) / (rows - 1);
  const columns = lines.map((points) => column(points, from, step, rows));
  return Array.from({ length: rows }, (_, i) => ({
    t: from + i * step,
    values: columns.map((c) => c[i] ?? null),
  }));
}

function column(points: Points, from: number, step: number, rows: number): (number | null)[] {
  const out = new Array<number | null>(rows).fill(null);
  let last = -1;
  let joined = false;
  for (const [t, value] of points) {
    if (value === null) {
      joined = false;
      continue;
    }
    const own = Math.round((t - from) / step);
    // Two points in one row: the second takes the next row, so that neither peak is lost.
    const row = own <= last && own >= last - 1 ? last + 1 : own;
    if (row < 0 || row >= rows || row <= last) continue;
    if (joined) fill(out, last, row, value);
    out[row] = value;
    last = row;
    joined = true;
  }
  return out;
}

function fill(out: (number | null)[], a: number, b: number, valueB: number): void {
  const valueA = out[a] ?? valueB;
  for (let i = a + 1; i < b; i += 1) out[i] = valueA + ((valueB - valueA) * (i - a)) / (b - a);
}

/**
 * The places of values with nothing on either side: no line can be drawn to them. Undefined where
 * there are none.
 */
export function lonely(
  values: readonly (number | null | undefined)[],
): ReadonlySet<number> | undefined {
  const there = (i: number): boolean => typeof values[i] === 'number';
  const places = values.map((_, i) => i).filter((i) => there(i) && !there(i - 1) && !there(i + 1));
  return places.length === 0 ? undefined : new Set(places);
}
