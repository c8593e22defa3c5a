import { describe, expect, it } from 'vitest';

import { refrigerant } from '../../../../core/refrigerant/refrigerants.ts';
import type { RefrigerantId } from '../../../../core/refrigerant/types.ts';
import { pascalFromPsig, psigFromPascal } from '../../../../core/units/pressure.ts';
import { pascal } from '../../../../core/units/brands.ts';
import { fahrenheitFromKelvin, kelvinFromFahrenheit } from '../../../../core/units/temperature.ts';
import { kelvin } from '../../../../core/units/brands.ts';

describe("technicians' values for R-410A (common practice, no source)", () => {
  const { curves } = refrigerant('R-410A');

  it('111 psig with a 37 degF suction line is about 1 degF of superheat', () => {
    // Pocket charts print whole degrees and whole psi, and 1 psi is 0.5 degF here.
    const dew = fahrenheitFromKelvin(kelvin(curves.tDew(pascalFromPsig(111))));
    expect(Math.abs(37 - dew - 1)).toBeLessThan(1);
    expect(37 - dew).toBeGreaterThan(0);
  });

  it.each([
    [236, 80],
    [225, 77],
  ])('standing at %d psig it is about %d degF', (psig, degF) => {
    const p = pascalFromPsig(psig);
    expect(Math.abs(fahrenheitFromKelvin(kelvin(curves.tBubble(p))) - degF)).toBeLessThan(0.5);
    expect(Math.abs(fahrenheitFromKelvin(kelvin(curves.tDew(p))) - degF)).toBeLessThan(0.5);
  });
});

describe('pressure-temperature charts of refrigerant makers (from memory)', () => {
  // Whole psig. 1 psi for pure fluids, 1.5 % of gauge for blends, whose models differ.
  it.each<readonly [RefrigerantId, number, number]>([
    ['R-410A', 40, 118],
    ['R-410A', 45, 130],
    ['R-410A', 105, 340],
    ['R-410A', 110, 365],
    ['R-410A', 120, 418],
    ['R-22', 40, 68.5],
    ['R-22', 105, 210.8],
    ['R-22', 120, 260],
    ['R-134a', 40, 35],
    ['R-134a', 100, 124],
  ])('%s at %d degF: %d psig', (id, degF, psig) => {
    const p = refrigerant(id).curves.pBubble(kelvinFromFahrenheit(degF));
    const tolerance = id === 'R-410A' ? 0.015 * psig : 1;
    expect(Math.abs(psigFromPascal(pascal(p)) - psig)).toBeLessThan(tolerance);
  });
});
