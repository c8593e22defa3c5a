import { kelvin, kelvinDifference, type Kelvin, type KelvinDifference } from './brands.ts';

/** Kelvin from degrees Celsius. */
/** Water freezes at 0 °C, K. */
export const FREEZING_K = 273.15;

export const kelvinFromCelsius = (degC: number): Kelvin => kelvin(degC + FREEZING_K);
/** Degrees Celsius from kelvin. */
export const celsiusFromKelvin = (t: Kelvin): number => t - FREEZING_K;
/** Kelvin from degrees Fahrenheit. */
export const kelvinFromFahrenheit = (degF: number): Kelvin => kelvin((degF + 459.67) / 1.8);
/** Degrees Fahrenheit from kelvin. */
export const fahrenheitFromKelvin = (t: Kelvin): number => t * 1.8 - 459.67;
/** A difference in kelvin from a difference in degrees Fahrenheit. */
export const differenceFromFahrenheit = (degF: number): KelvinDifference =>
  kelvinDifference(degF / 1.8);
/** A difference in degrees Fahrenheit from a difference in kelvin. */
export const fahrenheitFromDifference = (dt: number): number => dt * 1.8;
