import { describe, expect, it } from 'vitest';

import { isotherm, saturationDome } from '../../../../core/refrigerant/dome.ts';
import { refrigerant } from '../../../../core/refrigerant/refrigerants.ts';
import { REFRIGERANT_IDS } from '../../../../core/refrigerant/types.ts';

describe('saturationDome', () => {
  it.each(REFRIGERANT_IDS)('%s: liquid left of vapour, closing towards the top', (id) => {
    const r = refrigerant(id);
    const dome = saturationDome(r, 60);
    expect(dome).toHaveLength(60);
    expect(dome[0]!.p).toBe(r.range.pMin);
    expect(dome.at(-1)!.p).toBe(r.range.pMax);
    const widths = dome.map((point) => point.hVapour - point.hLiquid);
    for (const [i, width] of widths.entries()) {
      expect(width).toBeGreaterThan(0);
      if (i > 0) {
        expect(dome[i]!.p).toBeGreaterThan(dome[i - 1]!.p);
        expect(dome[i]!.hLiquid).toBeGreaterThan(dome[i - 1]!.hLiquid);
        expect(width).toBeLessThan(widths[i - 1]!);
      }
    }
  });

  it('wants two points', () => {
    expect(() => saturationDome(refrigerant('R-32'), 1)).toThrow(RangeError);
  });
});

describe('isotherm', () => {
  it.each(REFRIGERANT_IDS)('%s: pressure falls and enthalpy rises across the dome', (id) => {
    const r = refrigerant(id);
    const line = isotherm(r, 290, 12);
    expect(line).toHaveLength(24);
    for (let i = 1; i < line.length; i += 1) {
      expect(line[i]!.p).toBeLessThanOrEqual(line[i - 1]!.p * (1 + 1e-9));
    }
    const bubble = line[11]!;
    const dew = line[12]!;
    expect(bubble.h).toBeCloseTo(r.curves.hLiquidSat(r.curves.pBubble(290)), 0);
    expect(dew.h).toBeCloseTo(r.curves.hVapourSat(r.curves.pDew(290)), 0);
    expect(line.at(-1)!.h).toBeGreaterThan(dew.h);
  });

  it('stays inside the range at both ends and is empty outside', () => {
    const r = refrigerant('R-410A');
    for (const t of [r.range.tMin, r.range.tMax]) {
      const line = isotherm(r, t, 5);
      expect(line).toHaveLength(10);
      for (const { p, h } of line) {
        expect(p).toBeGreaterThanOrEqual(r.range.pMin * (1 - 1e-4));
        expect(p).toBeLessThanOrEqual(r.range.pMax * (1 + 1e-4));
        expect(Number.isFinite(h)).toBe(true);
      }
    }
    expect(isotherm(r, 150, 5)).toEqual([]);
    expect(isotherm(r, 400, 5)).toEqual([]);
  });
});
