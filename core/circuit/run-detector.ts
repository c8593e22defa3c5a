/**
 * Tells from the stream whether the compressor runs. Current decides where it is measured; else
 * the two pressures: they stand together at rest and part when it runs. A stop is known long
 * before they have equalised, by the collapse of their ratio.
 */

/** Logarithm of the pressure ratio above which a unit surely runs (ratio 1.22)... */
const ON = 0.2;
/** ...and below which it surely does not (ratio 1.08, allowing for gauges that disagree). */
const OFF = 0.08;
/** A fall of the log ratio to this fraction of what it lately was, within the memory, is a stop. */
const COLLAPSE = 0.6;
const MEMORY_S = 90;
/** A rise of the log ratio above its lowest since the stop that is a start. */
const RISE = 0.12;
/** Compressor current above which it runs, A: below are crankcase heaters and noise. */
const CURRENT_ON = 1.0;

export interface RunDetector {
  /**
   * @param t s
   * @param low suction pressure, Pa absolute, NaN if unknown
   * @param high high-side pressure, Pa absolute, NaN if unknown
   * @param current compressor current, A, NaN if unknown
   * @returns whether it runs; null where it cannot be told
   */
  push(t: number, low: number, high: number, current: number): boolean | null;
}

/** One detector a stream. */
export function createRunDetector(): RunDetector {
  let running: boolean | null = null;
  let peak = -Infinity; // slowly forgotten highest log ratio while running
  let trough = Infinity; // lowest log ratio since the stop
  let lastT: number | null = null;

  const byPressures = (t: number, x: number): boolean | null => {
    const dt = lastT === null ? 0 : t - lastT;
    lastT = t;
    if (running === true) {
      peak = Math.max(x, peak - (Math.max(0, peak - x) * Math.min(dt, MEMORY_S)) / MEMORY_S);
      if (x < OFF || x < COLLAPSE * peak) {
        running = false;
        trough = x;
      }
      return running;
    }
    trough = Math.min(trough, x);
    const starts = running === null ? x > ON : x > ON && x > trough + RISE;
    if (starts || (running === null && x < OFF)) {
      running = starts;
      peak = x;
      trough = x;
    }
    return running;
  };

  return {
    push(t, low, high, current) {
      if (!Number.isNaN(current)) {
        running = current > CURRENT_ON;
        peak = -Infinity;
        trough = Infinity;
        return running;
      }
      if (Number.isNaN(low) || Number.isNaN(high) || low <= 0 || high <= 0) return running;
      return byPressures(t, Math.log(high / low));
    },
  };
}
