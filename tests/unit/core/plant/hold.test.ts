import { describe, expect, it } from 'vitest';
import { holeFlow } from '../../../../core/plant/hold.ts';
import type { ScenarioInput } from '../../../../core/plant/scenario.ts';
import { play } from '../../../support/plant.ts';

const head = { title: 'test', demo: true as const, seed: 1, duration_s: 7200 };
const vacuumSensor = [{ channel: 'vacuum' as const, rate_Hz: 1 }];
const MICRON = 0.133322387415;

function pressures(input: ScenarioInput, times: readonly number[]): number[] {
  const run = play(input);
  return times.map((t) => {
    run.advanceTo(t);
    const truth = run.truth('A');
    if (truth.kind === 'splitSystem') throw new Error('not a hold');
    return truth.pressure;
  });
}

describe('flow through a hole', () => {
  it('chokes at the critical ratio and vanishes without a difference', () => {
    const flow = (down: number): number => holeFlow(1e-4, 1e6, down, 293.15, 0.0280134);
    expect(flow(1e5)).toBe(flow(5e5));
    expect(flow(0.53e6) / flow(1e5)).toBeCloseTo(1, 3);
    expect(flow(0.99e6)).toBeLessThan(0.3 * flow(1e5));
    expect(flow(1e6)).toBe(0);
    // Choked mass flow of nitrogen, A p sqrt(k / (R T)) (2 / (k + 1))^((k + 1) / (2 (k - 1))), times 0.8.
    const area = (Math.PI / 4) * 1e-8;
    const rt = (8.314462618 / 0.0280134) * 293.15;
    const exact = 0.8 * area * 1e6 * Math.sqrt(1.4 / rt) * Math.pow(2 / 2.4, 2.4 / 0.8);
    expect(flow(1e5) / exact).toBeCloseTo(1, 3);
  });
});

describe('nitrogen hold', () => {
  const hold = (hole_m: number, fill_K = 296.15): ScenarioInput => ({
    kind: 'pressureHold',
    ...head,
    volume_m3: 0.012,
    fill_Pa: 3e6,
    fill_K,
    surroundings_K: 296.15,
    hole_m,
    sensors: [{ channel: 'testPressure', rate_Hz: 1 }],
  });

  it('holds when tight, falls with the temperature as an ideal gas, falls for ever with a hole', () => {
    const [a = 0, b = 0] = pressures(hold(0), [60, 7200]);
    expect(b / a).toBeCloseTo(1, 9);
    const [, cooled = 0] = pressures(hold(0, 306.15), [1, 7200]);
    expect(cooled / 3e6).toBeCloseTo(296.15 / 306.15, 3);
    const [p0 = 0, p1 = 0, p2 = 0] = pressures(hold(2e-5), [600, 1200, 1800]);
    expect(p1).toBeLessThan(p0);
    // Choked: the fall is proportional to the pressure, so equal times fall by equal ratios.
    expect(p2 / p1 / (p1 / p0)).toBeCloseTo(1, 4);
  });
});

describe('vacuum hold', () => {
  const vacuum = (water_kg: number, hole_m: number): ScenarioInput => ({
    kind: 'vacuumHold',
    ...head,
    volume_m3: 0.014,
    surroundings_K: 296.5,
    pumpSpeed_m3_s: 2.2e-4,
    valvedOffAt_s: 1800,
    water_kg,
    hole_m,
    sensors: vacuumSensor,
  });

  it('dry and tight stays at the blank-off pressure', () => {
    const [end = 0, later = 0] = pressures(vacuum(0, 0), [1800, 5400]);
    expect(end / MICRON).toBeLessThan(40);
    expect(later).toBeCloseTo(end, 3);
  });

  it('moisture rises to a plateau below the vapour pressure of water', () => {
    const [p0 = 0, p1 = 0, p2 = 0, p3 = 0] = pressures(vacuum(0.0016, 0), [1800, 2400, 4800, 5400]);
    expect(p1 - p0).toBeGreaterThan(300 * MICRON);
    expect(p3 - p2).toBeLessThan(0.02 * (p1 - p0));
    // Water at 296.5 K: 2870 Pa (from memory of the steam tables).
    expect(p3).toBeLessThan(2870);
  });

  it('begins at the atmosphere of the site, and leaks from no more than that', () => {
    const site = { name: 'Mountain', altitude_m: 2000 };
    const open = { ...vacuum(0, 1e-3), site, valvedOffAt_s: 1 };
    // 79 495 Pa at 2000 m: ISO 2533:1975, printed table, from memory.
    const [start = 0, end = 0] = pressures(open, [0, 7200]);
    expect(start).toBeCloseTo(79_495, -1);
    expect(end).toBeCloseTo(79_495, -1);
  });

  it('a leak rises in a straight line without end', () => {
    const [p0 = 0, p1 = 0, p2 = 0] = pressures(vacuum(0, 2.2e-5), [2000, 3200, 4400]);
    expect(p1 - p0).toBeGreaterThan(500 * MICRON);
    expect((p2 - p1) / (p1 - p0)).toBeCloseTo(1, 2);
  });
});
