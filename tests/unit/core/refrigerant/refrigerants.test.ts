import { describe, expect, it } from 'vitest';

import { refrigerant } from '../../../../core/refrigerant/refrigerants.ts';
import { REFRIGERANT_IDS } from '../../../../core/refrigerant/types.ts';
import { kelvin, pascal } from '../../../../core/units/brands.ts';

describe('refrigerant', () => {
  it('is built once', () => {
    expect(refrigerant('R-32')).toBe(refrigerant('R-32'));
  });

  it.each([
    ['R-410A', 'A1'],
    ['R-32', 'A2L'],
    ['R-454B', 'A2L'],
    ['R-22', 'A1'],
    ['R-290', 'A3'],
  ] as const)('%s is %s (ASHRAE 34, from memory)', (id, safetyClass) => {
    expect(refrigerant(id).safetyClass).toBe(safetyClass);
  });

  it.each(REFRIGERANT_IDS)('%s refuses a pressure outside its range and says the range', (id) => {
    const r = refrigerant(id);
    const { pMin, pMax } = r.range;
    for (const value of [pMin * 0.999, pMax * 1.001, 0, -1, Number.NaN, Number.POSITIVE_INFINITY]) {
      for (const result of [r.bubbleTemperature(pascal(value)), r.dewTemperature(pascal(value))]) {
        expect(result).toEqual({
          ok: false,
          error: {
            code: 'OUT_OF_RANGE',
            refrigerant: id,
            quantity: 'pressure',
            value,
            min: pMin,
            max: pMax,
          },
        });
      }
    }
  });

  it.each(REFRIGERANT_IDS)('%s refuses a temperature outside its curve', (id) => {
    const r = refrigerant(id);
    for (const value of [r.range.tMin - 30, r.range.tMax + 30, Number.NaN]) {
      for (const result of [r.bubblePressure(kelvin(value)), r.dewPressure(kelvin(value))]) {
        expect(result.ok).toBe(false);
        if (result.ok) continue;
        expect(result.error).toMatchObject({ code: 'OUT_OF_RANGE', quantity: 'temperature' });
        expect(result.error.min).toBeLessThan(result.error.max);
        expect(value >= result.error.min && value <= result.error.max).toBe(false);
      }
    }
  });

  it.each(REFRIGERANT_IDS)('%s accepts the whole of the range it states', (id) => {
    const r = refrigerant(id);
    for (const p of [r.range.pMin, r.range.pMax]) {
      expect(r.bubbleTemperature(p).ok && r.dewTemperature(p).ok).toBe(true);
    }
    for (const t of [r.range.tMin, r.range.tMax]) {
      expect(r.bubblePressure(t).ok && r.dewPressure(t).ok).toBe(true);
    }
  });

  it.each(REFRIGERANT_IDS)('%s stands on the IIR reference state at 0 degC', (id) => {
    const { curves } = refrigerant(id);
    const p = curves.pBubble(273.15);
    expect(curves.hLiquidSat(p)).toBeCloseTo(200e3, -2);
    expect(curves.sLiquidSat(p)).toBeCloseTo(1e3, 1);
  });
});
