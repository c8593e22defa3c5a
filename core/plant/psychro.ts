/**
 * The few moist-air equations the plant needs, on plain SI numbers (K, Pa, kg water per kg dry
 * air). Saturation pressure by the Magnus form of Alduchov and Eskridge (1996), over water and over
 * ice; humidity ratio and the adiabatic-saturation equation as in the ASHRAE Handbook Fundamentals,
 * chapter Psychrometrics (coefficients from memory, checked in the tests against published points).
 */

/** Freezing point of water, K. */
export const FREEZING = 273.15;
/** Specific heat of dry air, J/(kg K). */
export const CP_AIR = 1006;
/** Heat of evaporation of water near 10 °C, J/kg. */
export const WATER_EVAPORATION = 2.477e6;
/** Heat of melting of ice, J/kg. */
export const ICE_MELTING = 3.337e5;

/** Saturation pressure of water vapour over water (above freezing) or ice (below), Pa. */
export function waterSaturation(t: number): number {
  const c = t - FREEZING;
  return c >= 0
    ? 610.94 * Math.exp((17.625 * c) / (c + 243.04))
    : 611.21 * Math.exp((22.587 * c) / (c + 273.86));
}

/** Humidity ratio of saturated air at a temperature and total pressure. */
export function saturatedHumidityRatio(t: number, p: number): number {
  const e = waterSaturation(t);
  return (0.621945 * e) / (p - e);
}

/** Humidity ratio from temperature and relative humidity (0..1, over water). */
export function humidityRatio(t: number, rh: number, p: number): number {
  const e = Math.min(rh * waterSaturation(t), 0.5 * p);
  return (0.621945 * e) / (p - e);
}

/** Relative humidity (0..1) from temperature and humidity ratio. */
export function relativeHumidity(t: number, w: number, p: number): number {
  const e = (w * p) / (0.621945 + w);
  return Math.min(1, e / waterSaturation(t));
}

/** Dew point (frost point below freezing) of air of a humidity ratio, K. */
export function dewPoint(w: number, p: number): number {
  const e = Math.max((w * p) / (0.621945 + w), 1e-3);
  const water = Math.log(e / 610.94);
  const t = (243.04 * water) / (17.625 - water);
  if (t >= 0) return t + FREEZING;
  const ice = Math.log(e / 611.21);
  return (273.86 * ice) / (22.587 - ice) + FREEZING;
}

/** Thermodynamic wet-bulb temperature, K, to 1e-4 K, by bisection of the adiabatic-saturation equation. */
export function wetBulb(t: number, w: number, p: number): number {
  let low = t - 60;
  let high = t;
  const c = t - FREEZING;
  while (high - low > 1e-4) {
    const mid = 0.5 * (low + high);
    const b = mid - FREEZING;
    const ws = saturatedHumidityRatio(mid, p);
    const wHere =
      b >= 0
        ? ((2501 - 2.326 * b) * ws - 1.006 * (c - b)) / (2501 + 1.86 * c - 4.186 * b)
        : ((2830 - 0.24 * b) * ws - 1.006 * (c - b)) / (2830 + 1.86 * c - 2.1 * b);
    if (wHere > w) high = mid;
    else low = mid;
  }
  return 0.5 * (low + high);
}

/** Density of moist air, kg dry air per m3 (ideal gas). */
export function airDensity(t: number, w: number, p: number): number {
  return p / (287.042 * t * (1 + 1.607858 * w));
}
