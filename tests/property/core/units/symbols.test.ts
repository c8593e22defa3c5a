import fc from 'fast-check';
import { describe, expect, it } from 'vitest';

import { atmosphereAtAltitude } from '../../../../core/units/pressure.ts';
import {
  fromSI,
  isUnitSymbol,
  splitValueAndUnit,
  toSI,
  UNIT_SYMBOLS,
} from '../../../../core/units/symbols.ts';

const symbols = Object.keys(UNIT_SYMBOLS).filter(isUnitSymbol);
// Subnormal numbers lose digits in any multiplication, and no gauge reads 1e-310.
const value = fc
  .double({ min: -1e4, max: 1e4, noNaN: true })
  .map((v) => (Math.abs(v) < 1e-300 ? 0 : v));
const atmosphere = fc.double({ min: 5e4, max: 1.1e5, noNaN: true });

describe.each(symbols)('%s', (symbol) => {
  it('comes back from SI', () => {
    fc.assert(
      fc.property(value, atmosphere, (v, atm) => {
        // Adding the atmosphere or the ice point costs digits of a small value in a small unit.
        const { scale, offset, gauge } = UNIT_SYMBOLS[symbol];
        const lost = (1e-15 * (Math.abs(offset) + (gauge ? atm : 0))) / scale;
        const back = fromSI(toSI(v, symbol, atm), symbol, atm);
        expect(Math.abs(back - v)).toBeLessThanOrEqual(1e-12 * Math.abs(v) + lost);
      }),
    );
  });

  it('keeps the order of values', () => {
    fc.assert(
      fc.property(value, value, atmosphere, (a, b, atm) => {
        fc.pre(a + 1e-6 < b);
        expect(toSI(a, symbol, atm)).toBeLessThan(toSI(b, symbol, atm));
      }),
    );
  });

  it('is read back from text', () => {
    fc.assert(
      fc.property(value, (v) => {
        expect(splitValueAndUnit(`${v} ${symbol}`)).toEqual({
          ok: true,
          value: { value: v, unit: symbol },
        });
      }),
    );
  });
});

describe('atmosphereAtAltitude', () => {
  it('falls with altitude', () => {
    const altitude = fc.double({ min: -500, max: 11_000, noNaN: true });
    fc.assert(
      fc.property(altitude, altitude, (a, b) => {
        fc.pre(a + 0.01 < b);
        expect(atmosphereAtAltitude(b)).toBeLessThan(atmosphereAtAltitude(a));
      }),
    );
  });
});
