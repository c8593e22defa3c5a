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

/**
 * Period of an undamped swing in the noise-free superheat of a stretch without events: by the
 * crossings of the mean over its last quarter hour; 0 where the swing is under 0.15 K or dies away.
 */
export function swingPeriod(series: Float64Array): number {
  const tail = Array.from(series.subarray(Math.max(0, series.length - SWING_PART_S)));
  const mean = tail.reduce((a, b) => a + b, 0) / tail.length;
  const half = Math.floor(tail.length / 2);
  const spread = (part: readonly number[]): number => Math.max(...part) - Math.min(...part);
  const late = spread(tail.slice(half));
  if (!(late >= 0.3) || late < 0.7 * spread(tail.slice(0, half))) return 0;
  const ups: number[] = [];
  for (let i = 1; i < tail.length; i += 1) {
    if ((tail[i - 1] ?? 0) < mean && (tail[i] ?? 0) >= mean) ups.push(i);
  }
  const first = ups[0];
  const last = ups.at(-1);
  if (first === undefined || last === undefined || ups.length < 3) return 0;
  return (last - first) / (ups.length - 1);
}
