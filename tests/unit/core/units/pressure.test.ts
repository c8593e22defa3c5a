import { describe, expect, it } from 'vitest';

import { gaugePascal, pascal } from '../../../../core/units/brands.ts';
import {
  absoluteFromGauge,
  atmosphereAtAltitude,
  gaugeFromAbsolute,
  PASCAL_PER_MICRON,
  PASCAL_PER_PSI,
  pascalFromPsig,
  psigFromPascal,
  STANDARD_ATMOSPHERE,
} from '../../../../core/units/pressure.ts';

describe('pressure units', () => {
  it('has the pound-force per square inch of NIST SP 811: 6894.757 Pa', () => {
    expect(PASCAL_PER_PSI).toBeCloseTo(6894.757, 3);
  });

  it('has 500 microns of mercury at 66.7 Pa', () => {
    expect(500 * PASCAL_PER_MICRON).toBeCloseTo(66.66, 2);
  });

  it('has the standard atmosphere at 14.696 psi', () => {
    expect(STANDARD_ATMOSPHERE / PASCAL_PER_PSI).toBeCloseTo(14.696, 3);
  });

  it('takes zero gauge for the local atmosphere, wherever that is', () => {
    expect(pascalFromPsig(0)).toBe(STANDARD_ATMOSPHERE);
    expect(pascalFromPsig(0, pascal(83_000))).toBe(83_000);
    expect(psigFromPascal(pascal(83_000), pascal(83_000))).toBe(0);
    expect(absoluteFromGauge(gaugePascal(2e5), pascal(9e4))).toBe(2.9e5);
    expect(gaugeFromAbsolute(pascal(2.9e5), pascal(9e4))).toBe(2e5);
  });

  it('reads 118 psig as 914.9 kPa absolute', () => {
    // 118 x 6.894757 + 101.325 kPa
    expect(pascalFromPsig(118) / 1e3).toBeCloseTo(914.906, 3);
  });
});

describe('atmosphereAtAltitude', () => {
  // ISO 2533:1975 / ICAO standard atmosphere, printed table, from memory (Pa). The rounded
  // constants of the closed form cost up to 0.1 Pa here.
  it.each([
    [0, 101_325],
    [1000, 89_874.6],
    [2000, 79_495.2],
    [3000, 70_108.5],
  ])('%d m: %d Pa', (altitude, expected) => {
    expect(Math.abs(atmosphereAtAltitude(altitude) - expected)).toBeLessThan(0.1);
  });

  it.each([-501, 11_001, Number.NaN, Number.POSITIVE_INFINITY])('refuses %d m', (altitude) => {
    expect(() => atmosphereAtAltitude(altitude)).toThrow(RangeError);
  });
});
