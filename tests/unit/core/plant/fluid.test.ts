import { describe, expect, it } from 'vitest';
import {
  emptySaturation,
  liquidEnthalpy,
  subcoolingOf,
  superheatOf,
  superheatOfEntropy,
  vapourDensity,
  vapourEnthalpy,
  vapourEntropy,
} from '../../../../core/plant/fluid.ts';
import { plantFluid } from '../../../../core/plant/sizing.ts';
import { refrigerant } from '../../../../core/refrigerant/refrigerants.ts';
import { REFRIGERANT_IDS } from '../../../../core/refrigerant/types.ts';

describe.each(REFRIGERANT_IDS)('the plant table of %s', (id) => {
  const fluid = plantFluid(id);
  const { curves } = refrigerant(id);
  const tLow = curves.tDew(fluid.pMin);
  const tHigh = curves.tDew(fluid.pMax);

  it('follows the curves it was made from', () => {
    const s = emptySaturation();
    for (let i = 1; i < 30; i += 1) {
      // Up to four fifths of the way to the top: the plant's own switches act below that.
      const p = curves.pDew(tLow + ((tHigh - tLow) * 0.8 * i) / 30);
      fluid.saturation(p, s);
      expect(Math.abs(s.tDew - curves.tDew(p))).toBeLessThan(0.002);
      expect(Math.abs(s.tBubble - curves.tBubble(p))).toBeLessThan(0.002);
      expect(Math.abs(s.hVapour - curves.hVapourSat(p))).toBeLessThan(20);
      expect(Math.abs(s.hLiquid - curves.hLiquidSat(p))).toBeLessThan(20);
      expect(s.slope / curves.tDewSlope(p)).toBeCloseTo(1, 1);
      for (const d of [5, 20, 50, 75]) {
        const t = curves.tDew(p) + d;
        const latent = s.hVapour - s.hLiquid;
        expect(Math.abs(vapourEnthalpy(s, d) - curves.hVapour(p, t)) / latent).toBeLessThan(0.006);
        expect(Math.abs(vapourEntropy(s, d) - curves.sVapour(p, t))).toBeLessThan(6);
        expect(vapourDensity(s, d) / curves.rhoVapour(p, t)).toBeCloseTo(1, 1);
      }
      const cold = liquidEnthalpy(s, 15);
      expect(Math.abs(cold - curves.hLiquid(p, curves.tBubble(p) - 15))).toBeLessThan(120);
    }
  });

  it('inverts its own functions', () => {
    const s = fluid.saturation(curves.pDew(tLow + 0.6 * (tHigh - tLow)), emptySaturation());
    for (const d of [0.5, 8, 40, 95]) {
      expect(superheatOf(s, vapourEnthalpy(s, d))).toBeCloseTo(d, 2);
      expect(superheatOfEntropy(s, vapourEntropy(s, d), d + 10)).toBeCloseTo(d, 2);
    }
    expect(subcoolingOf(s, liquidEnthalpy(s, 9))).toBeCloseTo(9, 1);
    expect(fluid.dewPressure(s.tDew) / s.p).toBeCloseTo(1, 3);
    expect(fluid.bubblePressure(s.tBubble) / s.p).toBeCloseTo(1, 3);
  });
});
