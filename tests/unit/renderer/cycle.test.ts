import { describe, expect, it } from 'vitest';
import { refrigerant } from '../../../core/refrigerant/refrigerants.ts';
import { cycleOf, domeLine, enthalpySpan } from '../../../renderer/charts/cycle.ts';

const SI = {
  suctionPressure: 1.0e6,
  highPressure: 2.6e6,
  suctionLineTemp: 286,
  liquidLineTemp: 309,
  dischargeLineTemp: 345,
};

describe('the cycle on the pressure-enthalpy chart', () => {
  const { curves } = refrigerant('R-410A');

  it('has its corners where the readings put them', () => {
    const cycle = cycleOf('R-410A', SI);
    expect(cycle.suction).toEqual({ p: 1.0e6, h: curves.hVapour(1.0e6, 286) });
    expect(cycle.liquid).toEqual({ p: 2.6e6, h: curves.hLiquid(2.6e6, 309) });
    expect(cycle.expanded).toEqual({ p: 1.0e6, h: curves.hLiquid(2.6e6, 309) });
    expect(cycle.discharge).toEqual({ p: 2.6e6, h: curves.hVapour(2.6e6, 345) });
    expect(cycle.dischargeMeasured).toBe(true);
  });

  it('ends an unmeasured compression at the entropy it began with', () => {
    const cycle = cycleOf('R-410A', { ...SI, dischargeLineTemp: null });
    expect(cycle.dischargeMeasured).toBe(false);
    const s = curves.sVapour(1.0e6, 286);
    let t = curves.tDew(2.6e6);
    while (curves.sVapour(2.6e6, t) < s) t += 0.001;
    expect(cycle.discharge?.h).toBeCloseTo(curves.hVapour(2.6e6, t), -1);
  });

  it('leaves out what cannot be told', () => {
    const off = cycleOf('R-410A', { ...SI, suctionPressure: null, dischargeLineTemp: null });
    expect(off.suction).toBeNull();
    expect(off.discharge).toBeNull();
    expect(off.expanded).toBeNull();
    expect(off.liquid).not.toBeNull();
    expect(cycleOf('R-410A', { ...SI, highPressure: 9e6 }).liquid).toBeNull();
  });

  it('spans every corner, also of a gas that leaves the compressor very hot', () => {
    const dome = domeLine('R-410A');
    const usual = enthalpySpan(dome, cycleOf('R-410A', SI));
    const nearly = enthalpySpan(dome, cycleOf('R-410A', { ...SI, dischargeLineTemp: 346 }));
    expect(nearly).toEqual(usual);
    const hot = cycleOf('R-410A', { ...SI, suctionLineTemp: 300, dischargeLineTemp: 385 });
    const span = enthalpySpan(dome, hot);
    expect(hot.discharge?.h).toBeGreaterThan(usual.high);
    expect(hot.discharge?.h).toBeLessThan(span.high);
    expect(span.low).toBeLessThan(hot.liquid?.h ?? 0);
  });

  it('goes up the liquid side of the dome and down the vapour side', () => {
    const dome = domeLine('R-410A');
    const half = dome.length / 2;
    expect(dome[half - 1]?.p).toBe(dome[half]?.p);
    expect(dome[0]?.h).toBeLessThan(dome.at(-1)!.h);
    expect(dome[0]?.p).toBe(dome.at(-1)?.p);
  });
});
