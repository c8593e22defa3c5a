/**
 * Tells from the stream whether the compressor runs. Current decides where it is measured; else
 * the two pressures: they stand together at rest and part when it runs, whichever hose is on which
 * valve. A stop is known long before they have equalised, by the collapse of their ratio.
 */

/** Logarithm of the pressure ratio above which a unit surely runs (ratio 1.22)... */
const ON = 0.2;
/** ...and below which it surely does not (ratio 1.08, allowing for gauges that disagree). */
const OFF = 0.08;
/** A fall of the log ratio to this fraction of what it lately was, within the memory, is a stop. */
const COLLAPSE = 0.6;
const MEMORY_S = 90;
/**
 * At a stop the high side falls as the low side rises: it must have part of the collapse. After a
 * start the ratio overshoots while the starved evaporator fills; then the low side alone rises.
 */
const HIGH_PART = 0.12;
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
  let peakHigh = -Infinity; // slowly forgotten highest log high-side pressure while running
  let trough = Infinity; // lowest log ratio since the stop
  let lastT: number | null = null;

  const byPressures = (t: number, x: number, high: number): boolean | null => {
    const dt = lastT === null ? 0 : t - lastT;
    lastT = t;
    if (running === true) {
      const forget = Math.min(dt, MEMORY_S) / MEMORY_S;
      peak = Math.max(x, peak - Math.max(0, peak - x) * forget);
      peakHigh = Math.max(high, peakHigh - Math.max(0, peakHigh - high) * forget);
      const collapsed = x < COLLAPSE * peak && peakHigh - high > HIGH_PART * (peak - x);
      if (x < OFF || collapsed) {
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
      peakHigh = high;
      trough = x;
    }
    return running;
  };

  return {
    push(t, low, high, current) {
      if (!Number.isNaN(current)) {
        running = current > CURRENT_ON;
        peak = -Infinity;
        peakHigh = -Infinity;
        trough = Infinity;
        return running;
      }
      if (Number.isNaN(low) || Number.isNaN(high) || low <= 0 || high <= 0) return running;
      return byPressures(t, Math.abs(Math.log(high / low)), Math.log(Math.max(low, high)));
    },
  };
}
