/**
 * Tells from the stream whether the compressor runs. Current decides where it is measured; else
 * the two pressures: they stand together at rest and part when it runs, whichever hose is on which
 * valve. A stop is known long before they have equalised, by the collapse of their ratio. Behind a closed valve
 * they may stand apart for hours: then it is told by the heat that neither coil can move.
 */

/** Logarithm of the pressure ratio above which a unit may be at work (ratio 1.22): no sound one lifts less. */
const ON = 0.2;
/** ...and below which one that ran surely does no more (ratio 1.08, allowing for gauges that disagree). */
const OFF = 0.08;
/** A fall of the log ratio to this fraction of what it lately was, within the memory, is a stop. */
const COLLAPSE = 0.6;
/** The overshoot of a start must be forgotten soon; later a slow valve makes the collapse slow. */
const YOUNG_MEMORY_S = 90;
const MEMORY_S = 200;
const YOUNG_S = 150;
/** This long without heat to move is a stop, s: at a start the pressures still part. */
const NO_HEAT_S = 30;
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
   * @param noHeat whether neither coil can move heat (see heat-flow.ts)
   * @returns whether it runs; null where it cannot be told
   */
  push(t: number, low: number, high: number, current: number, noHeat?: boolean): boolean | null;
}

/** One detector a stream. */
export function createRunDetector(): RunDetector {
  let running: boolean | null = null;
  let peak = -Infinity; // slowly forgotten highest log ratio while running
  let peakHigh = -Infinity; // slowly forgotten highest log high-side pressure while running
  let trough = Infinity; // lowest log ratio since the stop, or since the beginning
  let lastT: number | null = null;
  let startedAt = NaN;
  let noHeatFrom: number | null = null;

  const begin = (t: number, x: number, high: number): void => {
    running = true;
    startedAt = t;
    peak = x;
    peakHigh = high;
    trough = x;
    noHeatFrom = null;
  };

  const byPressures = (t: number, x: number, high: number, noHeat: boolean): boolean | null => {
    const dt = lastT === null ? 0 : t - lastT;
    lastT = t;
    noHeatFrom = noHeat ? (noHeatFrom ?? t) : null;
    if (running === true) {
      const memory = t - startedAt < YOUNG_S ? YOUNG_MEMORY_S : MEMORY_S;
      const forget = Math.min(dt, memory) / memory;
      peak = Math.max(x, peak - Math.max(0, peak - x) * forget);
      peakHigh = Math.max(high, peakHigh - Math.max(0, peakHigh - high) * forget);
      const collapsed = x < COLLAPSE * peak && peakHigh - high > HIGH_PART * (peak - x);
      const stands = noHeatFrom !== null && t - noHeatFrom >= NO_HEAT_S;
      if (x < OFF || collapsed || stands) {
        running = false;
        trough = x;
      }
      return running;
    }
    trough = Math.min(trough, x);
    const parted = x > ON && x > trough + RISE;
    if (running === null) {
      // Pressures so near each other are those of a unit that equalises, or of one that begins to part.
      if (noHeat || x <= ON) running = false;
      else begin(t, x, high);
    } else if (parted) begin(t, x, high);
    return running;
  };

  return {
    push(t, low, high, current, noHeat = false) {
      if (!Number.isNaN(current)) {
        running = current > CURRENT_ON;
        peak = -Infinity;
        peakHigh = -Infinity;
        trough = Infinity;
        noHeatFrom = null;
        return running;
      }
      if (Number.isNaN(low) || Number.isNaN(high) || low <= 0 || high <= 0) return running;
      return byPressures(t, Math.abs(Math.log(high / low)), Math.log(Math.max(low, high)), noHeat);
    },
  };
}
