/**
 * Finds an undamped swing (hunting) in one quantity: the period of best fit of a sine beside a
 * straight line, among periods of which about three have been seen, that explains most of the
 * movement and does not die away.
 */
import { meanDrift, type MeanDrift } from './period-means.ts';
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
/** Share of the movement about the line that the sine must explain; and to be believed further. */
const EXPLAINED = 0.6;
const STILL_EXPLAINED = 0.4;
/** ...or, of one that repeats itself as closely as this, the share that is enough. */
const SHAPED = 0.4;
const REPEATS = 0.8;
/** Least of that for any swing that is not known yet. */
const REPEATS_SINE = 0.7;
/** Share of a period, and seconds at most, after a cut that are left out: the first rush. */
const RUSH_SHARE = 0.5;
const RUSH_S = 90;
/** Least amplitude of the later half relative to the earlier half; and of one known already. */
const UNDAMPED = 0.62;
const STILL_UNDAMPED = 0.45;

/**
 * Gusts swing a unit a little, in no period for long: below so many of the least amplitudes (about two
 * tolerances) as much is asked of a known swing as of a new one.
 */
const LARGE = 6;
/** A known swing that no fit shows is still believed while it moves by this share of what it did... */
const MOVES = 0.55;
/** ...for this many searches, and at least this many periods. */
const DOUBT_SEARCHES = 3;
const DOUBT_PERIODS = 2;
/**
 * Swings that beat come and go: of a known one the movement about a line, as the amplitude of a sine
 * of its size, stays above this share of what it was even where they cancel...
 */
const BEATS = 0.25;
/** ...and above so many of the least amplitudes (about a tolerance). */
const PLAIN = 3.5;
/** Usual time between searches, s: one quantity of about five in each block. */
const SEARCH_S = 25;
/** Weight of a new period in one that is known, and how far it may be off to be the same swing. */
const GAIN = 0.4;
const SAME = 0.25;
/** Newest periods of which the middle one gives the amplitude. */
const PEAKS = 5;
/** Bins to a period below which the sine may tell the amplitude better than the peaks seen. */
const FEW_BINS = 8;

/** An undamped swing. */
export interface Swing {
  /** Half of peak to peak, K. */
  readonly amplitude: number;
  /** Amplitude of the sine of best fit, K: what noise does not add to. */
  readonly sine: number;
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
  /** Looks for a swing of at least this amplitude (K). Of one that is known less is asked. */
  search(leastAmplitude: number): Swing | null;
  /** How the mean of a swing moves, by its averages over whole periods; null with too few of them. */
  drift(swing: Swing, horizon: number): MeanDrift | null;
  clear(): void;
}

/** A fresh finder. */
export function createSwingFinder(): SwingFinder {
  return new Finder();
}

class Finder implements SwingFinder {
  readonly #fine = new SineBins(FINE);
  readonly #coarse = new SineBins(COARSE);
  /** Of the coarse bin that is being filled. */
  #sum = 0;
  #held = 0;
  #heldSpan = 0;
  /** Length of blocks without a value that are not gaps yet, s. */
  #pending = 0;
  #known: Swing | null = null;
  /** Searches since a known swing was last found. */
  #doubt = 0;
  /** Searches that found the known swing, since it was named. */
  #seen = 0;
  /** Period found by the latest search, s; 0 for none. */
  #candidate = 0;

  block(mean: number, seconds: number, length: number, pace: number): void {
    this.#pending += length;
    if (!(seconds > 0) && this.#pending < 1.5 * pace) return;
    const span = this.#pending;
    this.#pending = 0;
    this.#fine.push(seconds > 0 ? mean : NaN, span);
    if (seconds > 0) {
      this.#sum += mean;
      this.#held += 1;
    }
    this.#heldSpan += span;
    if (this.#heldSpan < COARSE_OF * 5 - 1e-6) return;
    this.#coarse.push(this.#held > 0 ? this.#sum / this.#held : NaN, this.#heldSpan);
    this.#sum = 0;
    this.#held = 0;
    this.#heldSpan = 0;
  }

  search(leastAmplitude: number): Swing | null {
    const range = Math.max(this.#fine.halfRange(FINE), this.#coarse.halfRange(COARSE));
    const found = range >= 0.9 * leastAmplitude ? this.#look(leastAmplitude) : null;
    this.#doubt = found === null ? this.#doubt + 1 : 0;
    if (found !== null) this.#seen += 1;
    // Once may be chance: a new swing is named when it is found twice running.
    const again = found !== null && this.#candidate > 0 && isSame(found.period, this.#candidate);
    this.#candidate = found?.period ?? 0;
    if (this.#known !== null || again)
      this.#known = found ?? (this.#goesOn(leastAmplitude) ? this.#known : null);
    if (this.#known === null && found === null) this.#seen = 0;
    return this.#known;
  }

  drift(swing: Swing, horizon: number): MeanDrift | null {
    return meanDrift(this.#binsFor(swing.period), swing, horizon);
  }

  clear(): void {
    this.#known = null;
    this.#doubt = 0;
    this.#seen = 0;
    this.#candidate = 0;
    this.#fine.clear();
    this.#coarse.clear();
    this.#sum = 0;
    this.#held = 0;
    this.#heldSpan = 0;
    this.#pending = 0;
  }

  #binsFor(period: number): SineBins {
    return period < COARSE_FROM_S ? this.#fine : this.#coarse;
  }

  /** Bins to be looked at for a period; 0 while too little was seen. */
  #lengthFor(period: number): number {
    const bins = this.#binsFor(period);
    const span = bins.span;
    if (!(span > 0) || period < 3.2 * span) return 0;
    const length = Math.max(SEEN_SECONDS, Math.min(3.1 * period, span * bins.capacity));
    const rush = Math.round(Math.min(RUSH_SHARE * period, RUSH_S) / span);
    const n = Math.min(bins.size - rush, Math.round(length / span));
    return n * span < Math.max(SEEN_PERIODS * period, SEEN_SECONDS * 0.95) ? 0 : n;
  }

  /** The period of best fit: its rung of the ladder, and itself between the rungs. */
  #best(): { readonly fit: SineFit; readonly rung: number; readonly period: number } | null {
    let fit: SineFit | null = null;
    let rung = 0;
    let shorter = 0; // explained one rung below the best, for interpolation
    let longer = 0;
    let previous = 0;
    for (let period = SHORTEST_S; period <= LONGEST_S * 1.01; period *= LADDER) {
      const n = this.#lengthFor(period);
      const one = n === 0 ? null : this.#binsFor(period).fit(period, n);
      const explained = one?.explained ?? 0;
      if (one !== null && explained > (fit?.explained ?? 0)) {
        fit = one;
        rung = period;
        shorter = previous;
        longer = 0;
      } else if (fit !== null && period < rung * LADDER * 1.01) longer = explained;
      previous = explained;
    }
    if (fit === null) return null;
    return { fit, rung, period: rung * LADDER ** vertex(shorter, fit.explained, longer) };
  }

  /** What the newest periods show by themselves; of a known swing less is asked. */
  #look(leastAmplitude: number): Swing | null {
    const top = this.#best();
    if (top === null || top.fit.amplitude < leastAmplitude) return null;
    const { fit, rung, period } = top;
    const known = this.#known !== null && isSame(period, this.#known.period) ? this.#known : null;
    const bins = this.#binsFor(rung);
    const n = this.#lengthFor(rung);
    const small = fit.amplitude < LARGE * leastAmplitude;
    const asked = known === null ? SHAPED : STILL_EXPLAINED;
    if (fit.explained < (small ? EXPLAINED : asked)) return null;
    if (known === null) {
      const repeat = bins.repeat(period, n - Math.ceil(period / bins.span));
      if (repeat < (fit.explained < EXPLAINED ? REPEATS : REPEATS_SINE)) return null;
    }
    if (bins.ratio(rung, n) < (small || known === null ? UNDAMPED : STILL_UNDAMPED)) return null;
    const even = known === null ? period : known.period + GAIN * (period - known.period);
    const peak = this.#fine.halfPeak(even, PEAKS);
    // Few bins to a period miss its peaks.
    const few = even < FEW_BINS * this.#fine.span;
    const amplitude = few ? Math.max(fit.amplitude, peak) : peak;
    return { amplitude, sine: fit.amplitude, period: even, explained: fit.explained };
  }

  /** Whether a known swing that no fit shows just now still moves as it did. */
  #goesOn(leastAmplitude: number): boolean {
    if (this.#known === null) return false;
    const { period, amplitude, sine } = this.#known;
    if (sine < LARGE * leastAmplitude) return false;
    if (this.#doubt > DOUBT_SEARCHES && this.#doubt * SEARCH_S > DOUBT_PERIODS * period)
      return this.#comesAndGoes(period, amplitude, leastAmplitude);
    if (this.#fine.halfPeak(period, 1) > MOVES * amplitude) return true;
    return this.#comesAndGoes(period, amplitude, leastAmplitude);
  }

  /**
   * Whether a known swing that no fit shows has only grown weaker, as one of two that beat does: it
   * has not come to rest before its newest periods are quiet, and is doubted no longer than it was seen.
   */
  #comesAndGoes(period: number, amplitude: number, leastAmplitude: number): boolean {
    if (this.#doubt > this.#seen) return false;
    const bins = this.#binsFor(period);
    const about = bins.aboutLine(Math.round((SEEN_PERIODS * period) / bins.span));
    return about > Math.max(BEATS * amplitude, PLAIN * leastAmplitude);
  }
}

function isSame(a: number, b: number): boolean {
  return Math.abs(a / b - 1) < SAME;
}

/** Place of the top of a parabola through three points at -1, 0, 1, held to ±0.5. */
function vertex(left: number, mid: number, right: number): number {
  if (left === 0 || right === 0) return 0;
  const bend = left - 2 * mid + right;
  if (!(bend < 0)) return 0;
  return Math.max(-0.5, Math.min(0.5, (0.5 * (left - right)) / bend));
}
