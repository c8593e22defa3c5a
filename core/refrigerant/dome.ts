import { kelvin } from '../units/brands.ts';
import type { Refrigerant } from './types.ts';

/** Saturated liquid and vapour at one pressure: p in Pa, h in J/kg. */
export interface DomePoint {
  readonly p: number;
  readonly hLiquid: number;
  readonly hVapour: number;
}

/** One point of a line on the pressure-enthalpy chart: p in Pa, h in J/kg. */
export interface ChartPoint {
  readonly p: number;
  readonly h: number;
}

// What every refrigerant's curves reach at least (see RefrigerantCurves).
const SUPERHEAT_SPAN_K = 80;
const SUBCOOLING_SPAN_K = 40;

/**
 * The saturation dome for a pressure-enthalpy chart, at pressures evenly spaced in ln p over the
 * refrigerant's range, ascending. The range ends below the critical point, so the top stays open.
 *
 * @param points number of pressures, at least 2
 * @throws RangeError for fewer than 2 points
 */
export function saturationDome(refrigerant: Refrigerant, points: number): readonly DomePoint[] {
  const { curves, range } = refrigerant;
  return logSpaced(range.pMin, range.pMax, points).map((p) => ({
    p,
    hLiquid: curves.hLiquidSat(p),
    hVapour: curves.hVapourSat(p),
  }));
}

/**
 * A line of constant temperature on the pressure-enthalpy chart, from the highest pressure to the
 * lowest: subcooled liquid, straight across the dome from bubble to dew, superheated vapour; as far
 * as the curves reach (80 K of superheat, 40 K of subcooling). Empty where the refrigerant has no
 * saturation at this temperature in its range.
 *
 * @param t temperature in K
 * @param points points in each of the two single-phase parts, at least 2
 * @throws RangeError for fewer than 2 points
 */
export function isotherm(
  refrigerant: Refrigerant,
  t: number,
  points: number,
): readonly ChartPoint[] {
  const { curves, range } = refrigerant;
  const bubble = refrigerant.bubblePressure(kelvin(t));
  const dew = refrigerant.dewPressure(kelvin(t));
  if (!bubble.ok || !dew.ok) return [];
  const top =
    t + SUBCOOLING_SPAN_K < range.tMax ? curves.pBubble(t + SUBCOOLING_SPAN_K) : range.pMax;
  const bottom = t - SUPERHEAT_SPAN_K > range.tMin ? curves.pDew(t - SUPERHEAT_SPAN_K) : range.pMin;
  const liquid = logSpaced(bubble.value, Math.max(top, bubble.value), points).reverse();
  const vapour = logSpaced(Math.min(bottom, dew.value), dew.value, points).reverse();
  return [
    ...liquid.map((p) => ({ p, h: curves.hLiquid(p, t) })),
    ...vapour.map((p) => ({ p, h: curves.hVapour(p, t) })),
  ];
}

function logSpaced(low: number, high: number, points: number): number[] {
  if (!(points >= 2)) throw new RangeError(`a line needs at least 2 points, not ${points}`);
  const step = Math.log(high / low) / (points - 1);
  return Array.from({ length: points }, (_, i) =>
    // The ends exactly: rounding must not carry them out of the range.
    i === 0 ? low : i === points - 1 ? high : low * Math.exp(step * i),
  );
}
