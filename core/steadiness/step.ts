/**
 * Notices a sudden change of one quantity within seconds: the mean of the last few seconds against
 * a straight line through the half minute before, measured by how well that same comparison
 * usually comes out for this quantity. The yardstick therefore already holds the sensor's noise,
 * its rounding and any swing, whatever they are.
 */

const RING = 64;
/** The newest stretch, s (at least two frames). */
const FRESH_S = 5;
/** Values of the newest stretch that are looked at. */
const MOST_FRESH = 8;
/** Left out between the stretches: a sluggish sensor is already moving there. */
const GUARD_S = 4;
/** The stretch before, s (at least four frames). */
const BASE_S = 32;
/** A flip of the last digit of a quantised value is no surprise. */
const FLIP_SHARE = 0.2;
/** Share of the slope of the stretch before that is taken to go on. */
const SLOPE_SHARE = 0.7;
/** Seconds (at least so many frames) over which the usual error is remembered. */
const MEMORY_S = 150;
const MEMORY_FRAMES = 15;
/** ... and after which it is known. */
const LEARNT_S = 20;
const LEARNT_FRAMES = 5;

export interface StepWatch {
  /** Takes a frame (dt: seconds between values of this quantity); NaN is skipped. */
  push(t: number, dt: number, value: number, flip: number): void;
  /** Error of the last comparison relative to the usual one; 0 while it cannot be told. */
  surprise(): number;
  /** The last comparison's error, K. */
  size(): number;
  /** Time within which a change shows in it, s. */
  within(): number;
  /** Forgets the values, keeps the yardstick. */
  cut(): void;
}

/** @param floor smallest usual error assumed, K */
export function createStepWatch(floor: number): StepWatch {
  const times = new Float64Array(RING);
  const values = new Float64Array(RING);
  const newest = new Float64Array(MOST_FRESH);
  let head = 0;
  let size = 0;
  let usual = NaN;
  let learnt = 0;
  let error = 0;
  let ratio = 0;
  let within = 0;

  /** Median of the newest stretch minus the line through the one before; NaN without enough. */
  const compare = (now: number, dt: number): number => {
    const fresh = Math.max(FRESH_S, 2 * dt) - 1e-6;
    const guard = fresh + Math.max(GUARD_S, dt);
    within = guard;
    const oldest = guard + Math.max(BASE_S, 5 * dt);
    let freshAge = 0;
    let freshN = 0;
    let n = 0;
    let sx = 0;
    let sy = 0;
    let sxx = 0;
    let sxy = 0;
    for (let i = 1; i <= size; i += 1) {
      const at = (head - i + RING) % RING;
      const age = now - (times[at] ?? 0);
      const y = values[at] ?? 0;
      if (age < fresh) {
        newest[freshN % MOST_FRESH] = y;
        freshAge += age;
        freshN += 1;
      } else if (age >= guard && age <= oldest) {
        // A single wild value must not tilt the line.
        const before = i < size ? (values[(at - 1 + RING) % RING] ?? y) : y;
        const base = middle(before, y, values[(at + 1) % RING] ?? y);
        n += 1;
        sx += age;
        sy += base;
        sxx += age * age;
        sxy += age * base;
      } else if (age > oldest) break;
    }
    if (freshN < 2 || n < 4) return NaN;
    const spread = sxx - (sx * sx) / n;
    // Not the whole slope: a line drawn through noise or the flank of a swing overshoots.
    const slope = spread > 0 ? (SLOPE_SHARE * (sxy - (sx * sy) / n)) / spread : 0;
    return typical(newest, freshN, sy / n + slope * (freshAge / freshN - sx / n));
  };

  return {
    push(t, dt, value, flip) {
      if (Number.isNaN(value)) return;
      times[head] = t;
      values[head] = value;
      head = (head + 1) % RING;
      size = Math.min(size + 1, RING);
      const e = compare(t, dt);
      if (Number.isNaN(e)) {
        error = 0;
        ratio = 0;
        return;
      }
      const magnitude = Math.abs(e);
      if (Number.isNaN(usual)) usual = magnitude;
      error = e;
      ratio =
        learnt >= Math.max(LEARNT_S, LEARNT_FRAMES * dt) - 1e-6
          ? e / Math.max(usual, floor, FLIP_SHARE * flip)
          : 0;
      const memory = Math.max(MEMORY_S, MEMORY_FRAMES * dt);
      usual +=
        Math.min(1, dt / Math.min(memory, learnt + dt)) *
        (Math.min(magnitude, 3 * Math.max(usual, floor)) - usual);
      learnt = Math.min(learnt + dt, memory);
    },
    surprise: () => ratio,
    size: () => error,
    within: () => Math.round(within),
    cut() {
      size = 0;
      error = 0;
      ratio = 0;
    },
  };
}

/** How far the newest stretch lies off a value: its median, or the nearer one of two. */
function typical(newest: Float64Array, count: number, expected: number): number {
  const a = (newest[0] ?? 0) - expected;
  const b = (newest[1] ?? 0) - expected;
  if (count === 2) {
    if (a * b <= 0) return 0;
    return Math.abs(a) < Math.abs(b) ? a : b;
  }
  const m = Math.min(count, MOST_FRESH);
  newest.subarray(0, m).sort();
  return ((newest[(m - 1) >> 1] ?? 0) + (newest[m >> 1] ?? 0)) / 2 - expected;
}

/** The middle one of three. */
function middle(a: number, b: number, c: number): number {
  return Math.max(Math.min(a, b), Math.min(Math.max(a, b), c));
}
