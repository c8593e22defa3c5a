import { usualInterval } from './table-gaps.ts';

/** No sensor of the trade speaks more often (the program is meant for 0.2 to 10 Hz), s. */
const FASTEST_S = 0.03;

/** Rows that are looked at, and the fewest values of a channel that tell its rate. */
const LOOKED_AT = 2000;
const FEWEST = 20;

/** What is said of a table whose every sensor would speak faster than any does: its times are in another unit. */
export function paceNotes(table: {
  readonly times: Float64Array;
  readonly values: readonly Float64Array[];
}): string[] {
  const intervals = table.values.map((list) => {
    const spoken = [...table.times.subarray(0, LOOKED_AT)].filter(
      (_, row) => !Number.isNaN(list[row] ?? NaN),
    );
    return spoken.length < FEWEST ? 0 : usualInterval(spoken);
  });
  const slowest = Math.max(0, ...intervals);
  if (slowest === 0 || slowest > FASTEST_S) return [];
  const rate = Math.round(1 / slowest);
  return [
    `the values come ${rate} times a second, and no sensor is that fast: check that the times are in the unit of the header (time[s], time[min], time[ms])`,
  ];
}
