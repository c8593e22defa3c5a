/** The forecast of the time until still, from the fitted approaches. */
import { futureRow, type Basis, type Forecast } from './approach.ts';
import { dot } from './linear.ts';
import type { QuantitySpec, TimeLeft } from './types.ts';

/** Steps at which the forecast is looked at, s; the last is the longest that is told. */
const STEP_S = 15;
const LONGEST_S = 3600;
/** Window of the average the future is compared with, s. */
const WINDOW_S = 60;
/** Share of the tolerance at which the evidence usually suffices. */
const ENOUGH = 0.8;
/** Half-width of a 90 % interval in standard deviations. */
const Z90 = 1.645;

/**
 * Seconds until every quantity's expected change over its horizon is inside its tolerance; null
 * where that is beyond an hour. The interval follows from the variance of the present forecast.
 */
export function forecastTimeLeft(
  basis: Basis,
  forecasts: readonly Forecast[],
  specs: readonly QuantitySpec[],
): TimeLeft | null {
  const sight = createSight(basis);
  let seconds = -1;
  let from = -1;
  let to = -1;
  for (let wait = 0; wait <= LONGEST_S && to < 0; wait += wait < 300 ? STEP_S : 4 * STEP_S) {
    sight.look(wait);
    let likely = true;
    let early = true;
    let late = true;
    for (let q = 0; q < specs.length; q += 1) {
      const f = forecasts[q];
      const limit = ENOUGH * (specs[q]?.tolerance ?? 1);
      if (f?.ok !== true) continue;
      const drift = sight.drift(f);
      // What is not yet known of the approach shrinks as the approach itself does.
      const spread = (Z90 * f.futureSd * 600) / (600 + wait);
      likely &&= drift <= limit;
      early &&= drift - spread <= limit;
      late &&= drift + spread <= 1.25 * limit;
    }
    if (early && from < 0) from = wait;
    if (likely && seconds < 0) seconds = wait;
    if (late && seconds >= 0) to = wait;
  }
  if (seconds < 0) return null;
  return { seconds, from: Math.max(0, Math.min(from, seconds)), to: to < 0 ? LONGEST_S : to };
}

interface Sight {
  /** Moves to a time this many seconds ahead. */
  look(wait: number): void;
  /** Size of the change expected there over the horizon, K. */
  drift(f: Forecast): number;
}

function createSight(basis: Basis): Sight {
  const now = basis.now - basis.origin;
  const past = new Float64Array(basis.future.length);
  const ahead = new Float64Array(basis.future.length);
  return {
    look(wait) {
      futureRow(now + wait - WINDOW_S, now + wait, past);
      futureRow(now + wait, now + wait + basis.horizon, ahead);
    },
    drift: (f) =>
      Math.abs(dot(ahead, f.coefficients, basis.terms) - dot(past, f.coefficients, basis.terms)),
  };
}
