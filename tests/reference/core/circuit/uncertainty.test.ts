import { describe, expect, it } from 'vitest';
import { readWindow, figureColumn } from '../../../../core/circuit/content.ts';
import { propagate, studentT95 } from '../../../../core/circuit/uncertainty.ts';
import type { Accuracy } from '../../../../core/circuit/types.ts';
import type { EngineConfig } from '../../../../core/engine-types.ts';
import { refrigerant } from '../../../../core/refrigerant/refrigerants.ts';
import type { RefrigerantId } from '../../../../core/refrigerant/types.ts';
import { channelIndex } from '../../../../core/stream/channel-index.ts';
import type { ChannelKey } from '../../../../core/stream/channels.ts';
import {
  PASCAL_PER_PSI,
  pascalFromPsig,
  STANDARD_ATMOSPHERE,
} from '../../../../core/units/pressure.ts';
import { kelvinFromFahrenheit } from '../../../../core/units/temperature.ts';
import { seeded } from '../../../support/random.ts';

/**
 * First-order propagation (JCGM 100:2008) against a Monte Carlo propagation of distributions
 * (JCGM 101:2008, Supplement 1: draw the inputs, compute the figure, take the scatter).
 */

const CLASSES: Record<string, Partial<Record<ChannelKey, Accuracy>>> = {
  'one percent of 800 psi, one degree': {
    suctionPressure: { ofFullScale: { fraction: 0.01, fullScale: 800 * PASCAL_PER_PSI } },
    liquidPressure: { ofFullScale: { fraction: 0.01, fullScale: 800 * PASCAL_PER_PSI } },
    suctionLineTemp: { absolute: 1 / 1.8 },
    liquidLineTemp: { absolute: 1 / 1.8 },
  },
  'one percent of reading, half a degree': {
    suctionPressure: { ofReading: 0.01 },
    liquidPressure: { ofReading: 0.01 },
    suctionLineTemp: { absolute: 0.5 / 1.8 },
    liquidLineTemp: { absolute: 0.5 / 1.8 },
  },
};

const PRESSURES = ['suctionPressure', 'liquidPressure'] as const;

function configFor(id: RefrigerantId, accuracy: EngineConfig['accuracy']): EngineConfig {
  return {
    refrigerant: id,
    metering: 'txv',
    mode: 'cooling',
    atmosphere: { pressure: STANDARD_ATMOSPHERE, kind: 'altitude' },
    gauge: { channels: [...PRESSURES], convertedWith: STANDARD_ATMOSPHERE },
    accuracy,
    offsets: {},
    minimumRun: 600,
    tolerances: {},
    marks: [],
  };
}

/** A running point at 45 °F evaporating and 110 °F condensing, 10 °F superheat and subcooling. */
function point(id: RefrigerantId): Record<string, number> {
  const r = refrigerant(id);
  return {
    suctionPressure: r.curves.pDew(kelvinFromFahrenheit(45)),
    liquidPressure: r.curves.pBubble(kelvinFromFahrenheit(110)),
    suctionLineTemp: kelvinFromFahrenheit(55),
    liquidLineTemp: kelvinFromFahrenheit(100),
  };
}

function readings(config: EngineConfig, values: Record<string, number>) {
  const r = refrigerant(config.refrigerant);
  const figures: Record<number, number> = {
    [figureColumn('superheat')]:
      values['suctionLineTemp']! - r.curves.tDew(values['suctionPressure']!),
    [figureColumn('subcooling')]:
      r.curves.tBubble(values['liquidPressure']!) - values['liquidLineTemp']!,
  };
  const columns = new Map<number, number>([
    ...Object.entries(figures).map(([c, v]): [number, number] => [Number(c), v]),
    ...Object.entries(values).map(([k, v]): [number, number] => [channelIndex(k as ChannelKey), v]),
  ]);
  return readWindow(
    (column) => {
      const mean = columns.get(column);
      return mean === undefined ? null : { mean, n: 100, uStat: 0, blocks: 10 };
    },
    { state: 'settled', reason: { code: 'noData' } },
    () => false,
    { refrigerant: r, config, atmosphere: config.atmosphere, window: { from: 0, to: 60 } },
  ).figures;
}

/** 95 % half-widths by Monte Carlo, with the stated limits as 2 sigma of normal distributions. */
function monteCarlo(config: EngineConfig, values: Record<string, number>, draws: number) {
  const r = refrigerant(config.refrigerant);
  const z = seeded(20260101).normal;
  const half = (key: ChannelKey): number => {
    const a = config.accuracy[key]!;
    const gauge = values[key]! - STANDARD_ATMOSPHERE;
    return Math.hypot(
      (a.ofReading ?? 0) * gauge,
      a.ofFullScale === undefined ? 0 : a.ofFullScale.fraction * a.ofFullScale.fullScale,
      a.absolute ?? 0,
    );
  };
  const sh: number[] = [];
  const sc: number[] = [];
  for (let i = 0; i < draws; i += 1) {
    const weather = (z() * 2000) / 2;
    const formulation = 1 + z() * 0.001;
    const p = (key: ChannelKey): number =>
      (values[key]! + (half(key) / 2) * z() + weather) * formulation;
    const t = (key: ChannelKey): number => values[key]! + (half(key) / 2) * z();
    sh.push(t('suctionLineTemp') - r.curves.tDew(p('suctionPressure')));
    sc.push(r.curves.tBubble(p('liquidPressure')) - t('liquidLineTemp'));
  }
  const sd = (x: number[]): number => {
    const mean = x.reduce((a, b) => a + b, 0) / x.length;
    return Math.sqrt(x.reduce((a, b) => a + (b - mean) ** 2, 0) / (x.length - 1));
  };
  return { superheat: 2 * sd(sh), subcooling: 2 * sd(sc) };
}

describe('uncertainty of superheat and subcooling', () => {
  for (const id of ['R-410A', 'R-32', 'R-454B', 'R-22', 'R-134a', 'R-407C'] as const) {
    for (const [name, accuracy] of Object.entries(CLASSES)) {
      it(`${id}, ${name}: agrees with Monte Carlo within 2 %`, () => {
        const config = configFor(id, accuracy);
        const values = point(id);
        const figures = readings(config, values);
        const mc = monteCarlo(config, values, 40_000);
        expect(figures.superheat!.u / mc.superheat).toBeGreaterThan(0.98);
        expect(figures.superheat!.u / mc.superheat).toBeLessThan(1.02);
        expect(figures.subcooling!.u / mc.subcooling).toBeGreaterThan(0.98);
        expect(figures.subcooling!.u / mc.subcooling).toBeLessThan(1.02);
      });
    }
  }

  it('says that 1 % of 800 psi makes the superheat of R-410A near 118 psig uncertain by some 3 to 4 °F', () => {
    // 8 psi over 2.4 psi/°F (slope of the dew curve near 118 psig) is 3.3 °F; with a 1 °F clamp 3.5.
    const config = configFor('R-410A', CLASSES['one percent of 800 psi, one degree']!);
    const values = { ...point('R-410A'), suctionPressure: pascalFromPsig(118) };
    const u = readings(config, values).superheat!.u * 1.8;
    expect(u).toBeGreaterThan(3);
    expect(u).toBeLessThan(4.2);
  });

  it('marks what it assumed', () => {
    const assumed = readings(
      {
        ...configFor('R-410A', {}),
        atmosphere: { pressure: STANDARD_ATMOSPHERE, kind: 'assumed' },
      },
      point('R-410A'),
    );
    expect(assumed.superheat!.marks).toEqual(['assumedAtmosphere', 'assumedAccuracy']);
  });
});

describe('propagate', () => {
  it('is the law of propagation for a linear function (JCGM 100:2008, 5.1.2)', () => {
    const u = propagate(
      ([a, b]) => 3 * a! - 4 * b!,
      [
        { value: 7, u: 0.1 },
        { value: -2, u: 0.2 },
      ],
    );
    expect(u).toBeCloseTo(Math.hypot(0.3, 0.8), 12);
  });
});

/** Probability within ±t of Student's density of that many degrees of freedom, by Simpson's rule. */
function studentWithin(t: number, degrees: number): number {
  // With x = sqrt(n) tan(a) the density becomes cos(a)^(n - 1), which a constant brings to one.
  const f = (a: number): number => Math.cos(a) ** (degrees - 1);
  const simpson = (to: number): number => {
    const n = 2000;
    const h = to / n;
    let sum = f(0) + f(to);
    for (let i = 1; i < n; i += 1) sum += (i % 2 === 1 ? 4 : 2) * f(i * h);
    return (sum * h) / 3;
  };
  return simpson(Math.atan(t / Math.sqrt(degrees))) / simpson(Math.PI / 2);
}

describe('studentT95', () => {
  it('has 95 % of the distribution within it, by the integral of its density', () => {
    for (let degrees = 1; degrees <= 300; degrees += 1) {
      expect(Math.abs(studentWithin(studentT95(degrees), degrees) - 0.95)).toBeLessThan(2e-4);
    }
  });

  it('has the values of the standard table (from memory of the published table)', () => {
    expect(studentT95(1)).toBe(12.706);
    expect(studentT95(10)).toBe(2.228);
    expect(studentT95(30)).toBe(2.042);
    expect(studentT95(60)).toBeCloseTo(2.0, 2);
    expect(studentT95(120)).toBeCloseTo(1.98, 2);
    expect(studentT95(0)).toBe(Infinity);
  });
});
