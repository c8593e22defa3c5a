import type { QuantityKey, QuantityMotion } from '../../core/steadiness/types.ts';

/**
 * Geometry of the closing-in picture: how far each quantity is from where it heads, counted in its
 * own tolerances, over time. All lines close into one band of plus and minus one.
 */

/** Distances beyond this many tolerances are drawn at the edge. */
export const FAR = 40;
/** The distances named on the axis. */
export const DISTANCE_TICKS = [-30, -10, -3, -1, 1, 3, 10, 30] as const;

/** One quantity's line: distance in tolerances against time (s); null is a gap. */
export interface ClosingLine {
  readonly key: QuantityKey;
  readonly points: readonly (readonly [t: number, distance: number | null])[];
  /** Distance of the present mean. */
  readonly now: number;
  readonly inside: boolean;
  /** Half-width of an undamped swing in tolerances, where there is one. */
  readonly swing: number | null;
}

/**
 * Where a quantity heads, K: its end where that is known to within its tolerance, else the mean of
 * the next minutes. An end far off that is mere extrapolation would show as away what is still.
 */
export function headingOf(motion: QuantityMotion): number | null {
  const { heading, headingU, tolerance } = motion;
  if (heading !== null && headingU !== null && headingU <= tolerance) return heading;
  if (motion.value === null || motion.drift === null) return null;
  return motion.value + motion.drift;
}

/** The distance of the present mean from where it heads, in tolerances; null where unknown. */
export function distanceOf(motion: QuantityMotion): number | null {
  const heading = headingOf(motion);
  if (heading === null || motion.value === null) return null;
  return (motion.value - heading) / motion.tolerance;
}

/** The line of one quantity from its history; null where it cannot be told where it heads. */
export function closingLine(
  motion: QuantityMotion,
  history: readonly (readonly [t: number, value: number | null])[],
): ClosingLine | null {
  const heading = headingOf(motion);
  const now = distanceOf(motion);
  if (heading === null || now === null) return null;
  return {
    key: motion.key,
    points: history.map(([t, v]) => [t, v === null ? null : (v - heading) / motion.tolerance]),
    now,
    inside: motion.inside,
    swing: motion.swing === null ? null : motion.swing.amplitude / motion.tolerance,
  };
}

/**
 * Position of a distance from the top (0) to the bottom (1): linear near the band, logarithmic far
 * away, so that the whole way in stays visible and the band stays wide.
 */
export function depthOf(distance: number): number {
  const clamped = Math.max(-FAR, Math.min(FAR, distance));
  return 0.5 - Math.asinh(clamped) / Math.asinh(FAR) / 2;
}

/** An SVG path through points, broken at gaps. */
export function pathOf(
  points: readonly (readonly [number, number | null])[],
  x: (t: number) => number,
  y: (value: number) => number,
): string {
  let path = '';
  let pen = 'M';
  for (const [t, value] of points) {
    if (value === null) {
      pen = 'M';
      continue;
    }
    path += `${pen}${x(t).toFixed(1)} ${y(value).toFixed(1)}`;
    pen = 'L';
  }
  return path;
}

/**
 * Moves labels apart so that each has `gap` of room, keeping their order and staying within
 * `min` to `max`.
 *
 * @param wanted positions wanted, any order
 * @returns positions given, in the same order
 */
export function spread(
  wanted: readonly number[],
  gap: number,
  min: number,
  max: number,
): readonly number[] {
  const order = wanted.map((_, i) => i).sort((a, b) => (wanted[a] ?? 0) - (wanted[b] ?? 0));
  const placed = wanted.map((w) => Math.max(min, Math.min(max, w)));
  for (let pass = 1; pass < order.length; pass += 1) {
    const above = order[pass - 1] ?? 0;
    const here = order[pass] ?? 0;
    placed[here] = Math.max(placed[here] ?? 0, (placed[above] ?? 0) + gap);
  }
  let limit = max;
  for (const here of order.reverse()) {
    placed[here] = Math.min(placed[here] ?? 0, limit);
    limit = (placed[here] ?? 0) - gap;
  }
  return placed;
}

/** Round steps for a time axis of about `count` marks, s. */
export function timeStep(span: number, count: number): number {
  const steps = [10, 30, 60, 120, 300, 600, 900, 1800, 3600, 7200, 14_400];
  return steps.find((step) => span / step <= count) ?? 28_800;
}

/** The marks of a time axis from `from` to `to`, s. */
export function timeTicks(from: number, to: number, count: number): readonly number[] {
  const step = timeStep(to - from, count);
  const ticks: number[] = [];
  for (let t = Math.ceil(from / step) * step; t <= to; t += step) ticks.push(t);
  return ticks;
}
