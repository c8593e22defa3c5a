/**
 * Finds an undamped swing (hunting) in one quantity: the period of best fit of a sine beside a
 * straight line, among periods of which about three have been seen, that explains most of the
 * movement and does not die away.
 */
import { SineBins, type SineFit } from './sine.ts';

/** Fine bins are base blocks (about 5 s), coarse bins four of them. */
const FINE = 128;
const COARSE = 104;
const COARSE_OF = 4;
const SHORTEST_S = 20;
const LONGEST_S = 600;
/** Periods from this on are looked for in the coarse bins, s. */
const COARSE_FROM_S = 150;
const LADDER = 1.12;
/** Periods that must have been seen, and seconds for the shortest ones. */
const SEEN_PERIODS = 2.6;
const SEEN_SECONDS = 100;
/** Share of the movement about the line that the sine must explain. */
const EXPLAINED = 0.6;
/** Least amplitude of the later half relative to the earlier half. */
const UNDAMPED = 0.62;

/** An undamped swing. */
export interface Swing {
  /** Half of peak to peak, K. */
  readonly amplitude: number;
  readonly period: number;
  /** Share of the movement explained. */
  readonly explained: number;
}

export interface SwingFinder {
  /**
   * Takes a base block; seconds 0 means no value.
   * @param pace seconds between values: a block without one, shorter than this, is not a gap
   */
  block(mean: number, seconds: number, span: number, pace: number): void;
  /**
   * Looks for a swing of at least this amplitude (K). A swing found before is looked for near its
   * period first.
   */
  search(leastAmplitude: number): Swing | null;
  clear(): void;
}

/** A fresh finder. */
export function createSwingFinder(): SwingFinder {
  const fine = new SineBins(FINE);
  const coarse = new SineBins(COARSE);
  let sum = 0;
  let held = 0;
  let heldSpan = 0;
  let pending = 0;

  const binsFor = (period: number): SineBins => (period < COARSE_FROM_S ? fine : coarse);

  /** Bins to be looked at for a period; 0 while too little was seen. */
  const lengthFor = (period: number): number => {
    const bins = binsFor(period);
    const span = bins.span;
    if (!(span > 0) || period < 3.2 * span) return 0;
    const length = Math.max(SEEN_SECONDS, Math.min(3.1 * period, span * bins.capacity));
    const n = Math.min(bins.size, Math.round(length / span));
    return n * span < Math.max(SEEN_PERIODS * period, SEEN_SECONDS * 0.95) ? 0 : n;
  };

  const fitAt = (period: number): SineFit | null => {
    const n = lengthFor(period);
    return n === 0 ? null : binsFor(period).fit(period, n);
  };

  return {
    block(mean, seconds, length, pace) {
      pending += length;
      if (!(seconds > 0) && pending < 1.5 * pace) return;
      const span = pending;
      pending = 0;
      const value = seconds > 0 ? mean : NaN;
      fine.push(value, span);
      if (seconds > 0) {
        sum += mean;
        held += 1;
      }
      heldSpan += span;
      if (heldSpan >= COARSE_OF * 5 - 1e-6) {
        coarse.push(held > 0 ? sum / held : NaN, heldSpan);
        sum = 0;
        held = 0;
        heldSpan = 0;
      }
    },
    search(leastAmplitude) {
      const range = Math.max(fine.halfRange(FINE), coarse.halfRange(COARSE));
      if (!(range >= 0.9 * leastAmplitude)) return null;
      let best: SineFit | null = null;
      let bestPeriod = 0;
      let shorter = 0; // explained one rung below the best, for interpolation
      let longer = 0;
      let previous = 0;
      for (let period = SHORTEST_S; period <= LONGEST_S * 1.01; period *= LADDER) {
        const fit = fitAt(period);
        const explained = fit?.explained ?? 0;
        if (fit !== null && explained > (best?.explained ?? 0)) {
          best = fit;
          bestPeriod = period;
          shorter = previous;
          longer = 0;
        } else if (best !== null && period < bestPeriod * LADDER * 1.01) longer = explained;
        previous = explained;
      }
      if (best === null || best.explained < EXPLAINED) return null;
      if (best.amplitude < leastAmplitude) return null;
      if (binsFor(bestPeriod).ratio(bestPeriod, lengthFor(bestPeriod)) < UNDAMPED) return null;
      const refined = bestPeriod * LADDER ** vertex(shorter, best.explained, longer);
      return { amplitude: best.amplitude, period: refined, explained: best.explained };
    },
    clear() {
      fine.clear();
      coarse.clear();
      sum = 0;
      held = 0;
      heldSpan = 0;
      pending = 0;
    },
  };
}

/** Place of the top of a parabola through three points at -1, 0, 1, held to ±0.5. */
function vertex(left: number, mid: number, right: number): number {
  if (left === 0 || right === 0) return 0;
  const bend = left - 2 * mid + right;
  if (!(bend < 0)) return 0;
  return Math.max(-0.5, Math.min(0.5, (0.5 * (left - right)) / bend));
}
