/** The forecast of the time until still, from the fitted approaches. */
import type { Forecast } from './approach.ts';
import { futureRow, type Basis } from './basis.ts';
import { dot } from './linear.ts';
import { normalWithin } from './normal.ts';
import type { QuantitySpec, TimeLeft } from './types.ts';

/** Steps at which the forecast is looked at, s, growing by a tenth; and the longest that is told. */
const STEP_S = 10;
const LONGEST_S = 3600;
/** Window of the average the future is compared with, s. */
const WINDOW_S = 60;
/** Probability of staying inside at which the evidence suffices for one quantity. */
const ENOUGH = 0.93;
/**
 * As evidence grows the spread of a forecast falls, and what it took for a slow approach turns out
 * to have been a faster one: both as these powers of the time watched (found on the tuning half).
 */
const LEARNING = 3.5;
const FADING = 4;
/** For the late end of the interval the spread is taken to be this many times larger. */
const LATE = 6;
/**
 * What really came, of what was forecast so, on the tuning half: the middle, a twentieth below and
 * a twentieth above (the last relative to the late end). Times count with these seconds added.
 */
const MIDDLE = 1.3;
const LOW = 0.42;
const HIGH = 2.1;
const ADDED_S = 20;

/**
 * Seconds until every quantity would be called still, with a 90 % interval; null where that is
 * beyond an hour. As time goes by the expected change shrinks with the fitted approach, and its
 * spread with the time watched.
 *
 * @param spreads standard deviation of the present forecasts, by quantity, K
 */
export function forecastTimeLeft(
  basis: Basis,
  forecasts: readonly Forecast[],
  specs: readonly QuantitySpec[],
  spreads: (q: number) => number,
): TimeLeft | null {
  const sight = createSight(basis);
  const watched = Math.max(60, basis.now - basis.origin);
  const quantities = specs.map((_, q) => q).filter((q) => forecasts[q]?.ok === true);
  const stillWith = (wait: number, share: number): boolean =>
    quantities.every((q) => {
      const f = forecasts[q];
      const tolerance = specs[q]?.tolerance ?? 1;
      if (f === undefined) return true;
      const learnt = watched / (watched + wait);
      const spread = spreads(q) * share * learnt ** LEARNING;
      return normalWithin(sight.drift(f) * learnt ** FADING, spread, tolerance) >= ENOUGH;
    });
  let seconds = -1;
  for (let wait = 0; wait <= LONGEST_S; wait += Math.max(STEP_S, 0.1 * wait)) {
    sight.look(wait);
    if (seconds < 0 && stillWith(wait, 1)) seconds = wait;
    if (seconds >= 0 && stillWith(wait, LATE)) return calibrated(seconds, wait);
  }
  return seconds < 0 ? null : calibrated(seconds, LONGEST_S);
}

/** Turns what the fits say into what came of it on the tuning half. */
function calibrated(seconds: number, late: number): TimeLeft {
  const scaled = (s: number, by: number): number => Math.max(0, (s + ADDED_S) * by - ADDED_S);
  return {
    seconds: scaled(seconds, MIDDLE),
    from: scaled(seconds, LOW),
    to: scaled(late, HIGH),
  };
}

interface Sight {
  /** Moves to a time this many seconds ahead. */
  look(wait: number): void;
  /** The change expected there over the horizon, K. */
  drift(f: Forecast): number;
}

function createSight(basis: Basis): Sight {
  const now = basis.now - basis.origin;
  const past = new Float64Array(basis.future.length);
  const ahead = new Float64Array(basis.future.length);
  return {
    look(wait) {
      futureRow(basis.terms, now + wait - WINDOW_S, now + wait, past);
      futureRow(basis.terms, now + wait, now + wait + basis.horizon, ahead);
    },
    drift: ({ coefficients: c }) =>
      dot(ahead, 0, c, 0, basis.terms) - dot(past, 0, c, 0, basis.terms),
  };
}
