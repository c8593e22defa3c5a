import { describe, expect, it } from 'vitest';

import { kelvin } from '../../../../core/units/brands.ts';
import {
  celsiusFromKelvin,
  differenceFromFahrenheit,
  fahrenheitFromDifference,
  fahrenheitFromKelvin,
  kelvinFromCelsius,
  kelvinFromFahrenheit,
} from '../../../../core/units/temperature.ts';

describe('temperature scales', () => {
  // Fixed points by definition: ice 32 degF = 0 degC = 273.15 K, steam 212 degF = 100 degC, and
  // -40 where the two scales meet.
  it.each([
    [-40, -40],
    [32, 0],
    [212, 100],
    [95, 35],
  ])('%d degF is %d degC', (degF, degC) => {
    expect(kelvinFromFahrenheit(degF)).toBeCloseTo(degC + 273.15, 9);
    expect(kelvinFromCelsius(degC)).toBeCloseTo(degC + 273.15, 12);
    expect(fahrenheitFromKelvin(kelvin(degC + 273.15))).toBeCloseTo(degF, 9);
    expect(celsiusFromKelvin(kelvin(degC + 273.15))).toBeCloseTo(degC, 9);
  });

  it('converts differences without an offset', () => {
    expect(differenceFromFahrenheit(18)).toBeCloseTo(10, 12);
    expect(fahrenheitFromDifference(10)).toBeCloseTo(18, 12);
    expect(differenceFromFahrenheit(0)).toBe(0);
  });
});
