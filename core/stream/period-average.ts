import type { ColumnAverage, History } from './history.ts';

/** Periods whose means tell how far one of them scatters, where the past holds as many. */
const LEAST_PERIODS = 4;

/**
 * Average of a column over a window of whole periods of a swing. A part of a period has a mean of its
 * own, and one period alone tells nothing of scatter: it is taken from the means of whole periods,
 * of some before the window as well where the window is short.
 *
 * @param window s; its length is a whole number of periods
 * @param period of the swing, s
 * @returns null where the column has no value in the window
 */
export function averageOverPeriods(
  history: History,
  column: number,
  window: { readonly from: number; readonly to: number },
  period: number,
): ColumnAverage | null {
  const { from, to } = window;
  const inside = Math.max(1, Math.round((to - from) / period));
  const average = history.average(column, from, to, inside);
  const past = Math.floor((to - (history.oldest() ?? from)) / period);
  const looked = Math.max(inside, Math.min(past, LEAST_PERIODS));
  if (average === null || looked === inside) return average;
  const wider = history.average(column, to - looked * period, to, looked);
  if (wider === null) return average;
  const uStat = wider.uStat * Math.sqrt(wider.blocks / Math.max(1, average.blocks));
  return { ...average, uStat, blocks: wider.blocks };
}
