import { KILOGRAM_PER_POUND } from './mass.ts';
import { gaugePascal, pascal, type GaugePascal, type Pascal } from './brands.ts';

/** One pound-force per square inch: lbf = 1 lb * 9.80665 m/s2, inch = 0.0254 m (exact). */
export const PASCAL_PER_PSI = (KILOGRAM_PER_POUND * 9.80665) / (0.0254 * 0.0254);
/** One bar: exact (NIST SP 811, appendix B). */
export const PASCAL_PER_BAR = 1e5;
/** One micron of mercury (mercury at 0 °C, standard gravity); 133.322387415 Pa per mmHg (NIST SP 811). */
export const PASCAL_PER_MICRON = 0.133322387415;
/** Standard atmosphere (exact). Used where nothing better is known, and then marked 'assumed'. */
export const STANDARD_ATMOSPHERE: Pascal = pascal(101_325);

/** Absolute from gauge, given the local atmosphere (both pascal). */
export function absoluteFromGauge(gauge: GaugePascal, atmosphere: Pascal): Pascal {
  return pascal(gauge + atmosphere);
}

/** Gauge from absolute, given the local atmosphere (both pascal). */
export function gaugeFromAbsolute(absolute: Pascal, atmosphere: Pascal): GaugePascal {
  return gaugePascal(absolute - atmosphere);
}

/** Absolute pascal from psig, given the local atmosphere. */
export function pascalFromPsig(psig: number, atmosphere: Pascal = STANDARD_ATMOSPHERE): Pascal {
  return pascal(psig * PASCAL_PER_PSI + atmosphere);
}

/** psig from absolute pascal, given the local atmosphere. */
export function psigFromPascal(p: Pascal, atmosphere: Pascal = STANDARD_ATMOSPHERE): number {
  return (p - atmosphere) / PASCAL_PER_PSI;
}

/**
 * Atmospheric pressure at an altitude, ICAO standard atmosphere (ISO 2533:1975), troposphere:
 * p = 101325 * (1 - 2.25577e-5 * h)^5.25588.
 *
 * @param altitude_m altitude above sea level in metres, -500 to 11 000
 * @throws RangeError outside that range
 */
export function atmosphereAtAltitude(altitude_m: number): Pascal {
  if (!(altitude_m >= -500 && altitude_m <= 11_000)) {
    throw new RangeError(`altitude ${altitude_m} m is outside -500 to 11000 m`);
  }
  return pascal(101_325 * Math.pow(1 - 2.25577e-5 * altitude_m, 5.25588));
}
