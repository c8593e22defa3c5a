import { describe, expect, it } from 'vitest';

import {
  fromSI,
  isGauge,
  isUnitSymbol,
  splitValueAndUnit,
  toSI,
  unitFits,
  type UnitSymbol,
} from '../../../../core/units/symbols.ts';

const ATMOSPHERE = 101_325;

describe('toSI and fromSI', () => {
  // Exact definitions: BIPM SI brochure; NIST SP 811 for psi, degF, lb, oz, and mmHg (the micron).
  it.each<readonly [number, UnitSymbol, number]>([
    [100, 'psig', 790_800.729],
    [100, 'psia', 689_475.729],
    [1, 'kPag', 102_325],
    [1, 'kPa', 1000],
    [1, 'barg', 201_325],
    [1, 'bar', 1e5],
    [1, 'Pa', 1],
    [1000, 'micron', 133.322],
    [32, 'degF', 273.15],
    [0, 'degC', 273.15],
    [300, 'K', 300],
    [50, 'percent', 0.5],
    [0.5, 'fraction', 0.5],
    [3, 'A', 3],
    [240, 'V', 240],
    [1, 'lb', 0.45359237],
    [16, 'oz', 0.45359237],
    [2, 'kg', 2],
  ])('%d %s', (value, symbol, si) => {
    expect(toSI(value, symbol, ATMOSPHERE)).toBeCloseTo(si, 3);
    expect(fromSI(si, symbol, ATMOSPHERE)).toBeCloseTo(value, 2);
  });

  it('uses the local atmosphere for gauge units only', () => {
    expect(toSI(0, 'psig', 83_000)).toBe(83_000);
    expect(toSI(0, 'psia', 83_000)).toBe(0);
    expect(isGauge('barg') && isGauge('psig') && isGauge('kPag')).toBe(true);
    expect(isGauge('bar') || isGauge('psia') || isGauge('micron')).toBe(false);
  });
});

describe('unit symbols', () => {
  it('are case-sensitive and closed', () => {
    expect(isUnitSymbol('psig')).toBe(true);
    for (const other of ['PSIG', 'psi', 'toString', '', 'degf']) {
      expect(isUnitSymbol(other)).toBe(false);
    }
  });

  it('fit their own quantities only', () => {
    expect(unitFits('micron', 'vacuum')).toBe(true);
    expect(unitFits('micron', 'pressure')).toBe(false);
    expect(unitFits('bar', 'vacuum')).toBe(true);
    expect(unitFits('degF', 'pressure')).toBe(false);
  });
});

describe('splitValueAndUnit', () => {
  it.each([
    ['118 psig', 118, 'psig'],
    ['95degF', 95, 'degF'],
    [' -3.5 degC ', -3.5, 'degC'],
    ['.5 oz', 0.5, 'oz'],
    ['600 ft', 600, 'ft'],
    ['1e3 Pa', 1000, 'Pa'],
  ])('reads %j', (text, value, unit) => {
    expect(splitValueAndUnit(text)).toEqual({ ok: true, value: { value, unit } });
  });

  it.each(['', 'psig', '118', '118 psig x', '1,5 bar', '1.2.3 bar', 'NaN psig', '1e999 Pa'])(
    'refuses %j',
    (text) => {
      expect(splitValueAndUnit(text)).toEqual({
        ok: false,
        error: { code: 'NOT_A_QUANTITY', text },
      });
    },
  );
});
