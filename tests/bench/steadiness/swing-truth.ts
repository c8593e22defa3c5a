/** The swing of a noise-free session, for its truth. */

/** The longest stretch of running without an event, s; empty where it never ran. */
export function longestStretch(
  runs: readonly { readonly from: number; readonly to: number }[],
  events: readonly { readonly at: number }[],
): { from: number; to: number } {
  let best = { from: 0, to: 0 };
  for (const run of runs) {
    const inside = events.map((e) => e.at).filter((at) => at > run.from && at < run.to);
    const edges = [run.from, ...inside, run.to];
    for (let i = 0; i + 1 < edges.length; i += 1) {
      const from = edges[i] ?? 0;
      const to = edges[i + 1] ?? 0;
      if (to - from > best.to - best.from) best = { from, to };
    }
  }
  return best;
}

/** Part of the stretch, counted from its end, that a swing is looked for in, s. */
const SWING_PART_S = 900;
/** A swing crosses its mean anew only after having left it by this share of its whole spread. */
const LEFT_BY = 0.1;
/** Most of its periods lie this near to their median: gusts of the weather cross at random. */
const REGULAR = { share: 0.7, within: 0.25 } as const;

/**
 * Period of an undamped swing in the noise-free superheat of a stretch without events, over its last
 * quarter hour; 0 where the swing is under 0.15 K, dies away, or does not keep time.
 */
export function swingPeriod(series: Float64Array): number {
  const tail = Array.from(series.subarray(Math.max(0, series.length - SWING_PART_S)));
  const half = Math.floor(tail.length / 2);
  const spread = (part: readonly number[]): number => Math.max(...part) - Math.min(...part);
  const late = spread(tail.slice(half));
  if (!(late >= 0.3) || late < 0.7 * spread(tail.slice(0, half))) return 0;
  const ups = upwardCrossings(tail, LEFT_BY * spread(tail));
  const periods = ups.slice(1).map((up, i) => up - (ups[i] ?? 0));
  const median = [...periods].sort((a, b) => a - b)[Math.floor(periods.length / 2)] ?? NaN;
  const regular = periods.filter((p) => Math.abs(p - median) <= REGULAR.within * median);
  if (periods.length < 3 || regular.length < REGULAR.share * periods.length) return 0;
  return regular.reduce((a, b) => a + b, 0) / regular.length;
}

/** Where a series rises through its mean after having been below it by more than a margin. */
function upwardCrossings(series: readonly number[], margin: number): number[] {
  const mean = series.reduce((a, b) => a + b, 0) / series.length;
  const ups: number[] = [];
  let below = false;
  let at = 0;
  series.forEach((y, i) => {
    if (y < mean - margin) below = true;
    if (y < mean) at = i + 1;
    if (!below || y <= mean + margin) return;
    ups.push(at);
    below = false;
  });
  return ups;
}
