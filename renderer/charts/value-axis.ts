import { getNiceTickValues } from 'recharts';

/** An axis of values: its marks, which are its ends as well, and the decimals that all of them take. */
export interface ValueAxis {
  readonly marks: readonly number[];
  readonly decimals: number;
}

/**
 * Round marks about some values, in steps of 1, 2 or 5 times a power of ten where any of the counts allows.
 *
 * @param least and most values to be held
 * @param counts numbers of marks that would do; the one that leaves the least room empty is taken
 * @param leastSpan what the axis spans at least, so that mere noise does not fill it
 */
export function valueAxis(
  least: number,
  most: number,
  counts: readonly number[],
  leastSpan: number,
): ValueAxis {
  const short = Math.max(0, leastSpan - (most - least)) / 2;
  const span = (marks: readonly number[]): number => (marks.at(-1) ?? 0) - (marks[0] ?? 0);
  const ways = counts
    .map((count) => getNiceTickValues([least - short, most + short], count, true, 'snap125'))
    .sort((a, b) => span(a) - span(b));
  const best = ways.find((marks) => !isQuartered(marks)) ?? ways[0] ?? [];
  return { marks: best, decimals: Math.max(0, ...best.map(decimalsOf)) };
}

/** Whether the marks count in quarters (25, 50, 75), which the library takes for round as well. */
function isQuartered([a = 0, b = 0]: readonly number[]): boolean {
  return (b - a).toExponential(3).startsWith('2.5');
}

function decimalsOf(mark: number): number {
  return (String(mark).split('.')[1] ?? '').length;
}
