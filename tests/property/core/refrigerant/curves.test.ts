import fc from 'fast-check';
import { describe, expect, it } from 'vitest';

import { refrigerant } from '../../../../core/refrigerant/refrigerants.ts';
import { REFRIGERANT_IDS } from '../../../../core/refrigerant/types.ts';

const unit = fc.double({ min: 0, max: 1, noNaN: true });

describe.each(REFRIGERANT_IDS)('the curves of %s', (id) => {
  const { curves, range } = refrigerant(id);
  const pressureAt = (x: number) => range.pMin * Math.pow(range.pMax / range.pMin, x);
  const pressure = unit.map(pressureAt);
  // Away from the ends, so that a central difference stays inside.
  const inner = unit.map((x) => pressureAt(0.01 + 0.98 * x));
  const superheat = unit.map((x) => 80 * x);
  const subcooling = unit.map((x) => 40 * x);

  it('come back from pressure to temperature to pressure', () => {
    fc.assert(
      fc.property(pressure, (p) => {
        const bubble = curves.tBubble(p);
        const dew = curves.tDew(p);
        expect(Math.abs(curves.tBubble(curves.pBubble(bubble)) - bubble)).toBeLessThan(1e-4);
        expect(Math.abs(curves.tDew(curves.pDew(dew)) - dew)).toBeLessThan(1e-4);
      }),
    );
  });

  it('rise with pressure', () => {
    fc.assert(
      fc.property(pressure, pressure, (a, b) => {
        fc.pre(b > a * 1.0001);
        expect(curves.tBubble(b)).toBeGreaterThan(curves.tBubble(a));
        expect(curves.tDew(b)).toBeGreaterThan(curves.tDew(a));
        expect(curves.rhoVapourSat(b)).toBeGreaterThan(curves.rhoVapourSat(a));
        expect(curves.rhoLiquidSat(b)).toBeLessThan(curves.rhoLiquidSat(a));
      }),
    );
  });

  it('have dew at or above bubble temperature', () => {
    // The margin is the error of the two fits: pure fluids have the same curve twice.
    fc.assert(fc.property(pressure, (p) => curves.tDew(p) >= curves.tBubble(p) - 1.5e-5));
  });

  it('have slopes that agree with a numeric derivative', () => {
    fc.assert(
      fc.property(inner, (p) => {
        const d = p * 1e-5;
        const bubble = (curves.tBubble(p + d) - curves.tBubble(p - d)) / (2 * d);
        const dew = (curves.tDew(p + d) - curves.tDew(p - d)) / (2 * d);
        expect(curves.tBubbleSlope(p) / bubble).toBeCloseTo(1, 6);
        expect(curves.tDewSlope(p) / dew).toBeCloseTo(1, 6);
      }),
    );
  });

  it('have no step at saturation', () => {
    fc.assert(
      fc.property(pressure, (p) => {
        const bubble = curves.tBubble(p);
        const dew = curves.tDew(p);
        expect(curves.hVapour(p, dew)).toBeCloseTo(curves.hVapourSat(p), 3);
        expect(curves.sVapour(p, dew)).toBeCloseTo(curves.sVapourSat(p), 6);
        expect(curves.rhoVapour(p, dew) / curves.rhoVapourSat(p)).toBeCloseTo(1, 9);
        expect(curves.hLiquid(p, bubble)).toBeCloseTo(curves.hLiquidSat(p), 3);
        expect(curves.sLiquid(p, bubble)).toBeCloseTo(curves.sLiquidSat(p), 6);
        expect(curves.rhoLiquid(p, bubble) / curves.rhoLiquidSat(p)).toBeCloseTo(1, 9);
      }),
    );
  });

  it('obey dh = T ds along an isobar (first and second law)', () => {
    fc.assert(
      fc.property(pressure, superheat, subcooling, (p, above, below) => {
        const step = 0.5;
        const obeys = (h0: number, h1: number, s0: number, s1: number, t: number) => {
          const dh = h1 - h0;
          // Trapezoid error and the fits' own: a thousandth, and a fifth of the promised 0.1 kJ/kg.
          expect(Math.abs(dh - (t + step / 2) * (s1 - s0))).toBeLessThan(1e-3 * dh + 20);
          expect(dh).toBeGreaterThan(0);
        };
        const v = curves.tDew(p) + above;
        const l = curves.tBubble(p) - below - step;
        obeys(
          curves.hVapour(p, v),
          curves.hVapour(p, v + step),
          curves.sVapour(p, v),
          curves.sVapour(p, v + step),
          v,
        );
        obeys(
          curves.hLiquid(p, l),
          curves.hLiquid(p, l + step),
          curves.sLiquid(p, l),
          curves.sLiquid(p, l + step),
          l,
        );
      }),
    );
  });

  it('obey dh = T ds + v dp along an isotherm: density belongs to h and s', () => {
    fc.assert(
      fc.property(inner, superheat, (p, above) => {
        const t = curves.tDew(p) + above + 1;
        const d = p * 0.002;
        expect(t).toBeGreaterThan(curves.tDew(p + d));
        const dh = curves.hVapour(p + d, t) - curves.hVapour(p - d, t);
        const ds = curves.sVapour(p + d, t) - curves.sVapour(p - d, t);
        const vdp = (2 * d) / curves.rhoVapour(p, t);
        expect(Math.abs((dh - t * ds) / vdp - 1)).toBeLessThan(0.02);
      }),
    );
  });
});

describe('Clapeyron: dp/dT = (s" - s\') / (v" - v\') for the pure fluids', () => {
  it.each(['R-32', 'R-22', 'R-134a', 'R-290', 'R-1234yf'] as const)('%s', (id) => {
    const { curves, range } = refrigerant(id);
    fc.assert(
      fc.property(unit, (x) => {
        const p = range.pMin * Math.pow(range.pMax / range.pMin, x);
        const ds = curves.sVapourSat(p) - curves.sLiquidSat(p);
        const dv = 1 / curves.rhoVapourSat(p) - 1 / curves.rhoLiquidSat(p);
        expect(curves.tDewSlope(p) * (ds / dv)).toBeCloseTo(1, 4);
      }),
    );
  });
});
