/**
 * How the mean of a swing moves, from its averages over whole periods: a swing that is no sine, or whose
 * phase wanders, leaves large residuals in a fit, but its averages stand still where its mean does.
 */
import type { SineBins } from './sine.ts';

/** Averages run over whole periods of at least so long together, s. */
const LEAST_S = 60;
/** So many averages at least, and no more. */
const LEAST_MEANS = 4;
const MOST_MEANS = 8;
/** The scatter of averages that is reckoned with before any is seen, as a share of the amplitude... */
const SCATTER_SHARE = 0.05;
/** ...and for how many of them it counts. */
const SCATTER_COUNTS = 3;

/** Amplitudes that wander move the means of neighbouring periods alike: the scatter tells too little. */
const ALIKE = 1.3;

export interface MeanDrift {
  /** Expected change from the mean of the latest periods to that of the horizon, and its sd, K. */
  readonly drift: number;
  readonly sd: number;
}

/**
 * @param bins of the quantity
 * @param swing its period, s, and amplitude (half of peak to peak), K
 * @param horizon ahead, s
 * @returns null where fewer than four averages were seen
 */
export function meanDrift(
  bins: SineBins,
  swing: { readonly period: number; readonly amplitude: number },
  horizon: number,
): MeanDrift | null {
  const { span } = bins;
  if (!(span > 0)) return null;
  const length = swing.period * Math.max(1, Math.round(LEAST_S / swing.period));
  const each = length / span;
  const most = Math.min(MOST_MEANS, Math.floor(bins.size / each));
  const usual = SCATTER_COUNTS * (SCATTER_SHARE * swing.amplitude) ** 2;
  // From the middle of the newest average to the middle of the horizon, in averages.
  const ahead = 0.5 + horizon / (2 * length);
  // Newest first: the sums of a straight line through the averages seen so far.
  let best: MeanDrift | null = null;
  let sum = 0;
  let moment = 0;
  let square = 0;
  let newest = 0;
  for (let k = 0; k < most; k += 1) {
    const mean = bins.mean((k + 1) * each, k * each);
    if (Number.isNaN(mean)) break;
    if (k === 0) newest = mean;
    const y = mean - newest;
    sum += y;
    moment += k * y;
    square += y * y;
    const n = k + 1;
    if (n < LEAST_MEANS) continue;
    const middle = k / 2;
    const spread = (n * (n * n - 1)) / 12;
    const slope = (moment - middle * sum) / spread;
    const rest = Math.max(0, square - (sum * sum) / n - slope * slope * spread);
    const variance = (rest + usual) / (n - 2 + SCATTER_COUNTS);
    const own = variance * (1 + Math.min(1, length / horizon));
    const sd = ALIKE * Math.sqrt((variance / spread) * ahead ** 2 + own);
    // The oldest averages may still hold the start: a line through fewer then fits better.
    if (best === null || sd < best.sd) best = { drift: -slope * ahead, sd };
  }
  return best;
}
