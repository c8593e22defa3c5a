import { describe, expect, it } from 'vitest';
import { createRunDetector } from '../../../../core/circuit/run-detector.ts';

const kPa = 1000;

describe('createRunDetector', () => {
  it('knows a standing unit from a running one by its pressures', () => {
    expect(createRunDetector().push(0, 1600 * kPa, 1620 * kPa, NaN)).toBe(false);
    expect(createRunDetector().push(0, 900 * kPa, 2500 * kPa, NaN)).toBe(true);
  });

  it('cannot tell from one pressure alone', () => {
    expect(createRunDetector().push(0, 900 * kPa, NaN, NaN)).toBeNull();
  });

  it('sees the start as the pressures part, and the stop long before they are equal', () => {
    const d = createRunDetector();
    expect(d.push(0, 1600 * kPa, 1600 * kPa, NaN)).toBe(false);
    expect(d.push(5, 1300 * kPa, 1900 * kPa, NaN)).toBe(true);
    for (let t = 10; t < 600; t += 1) d.push(t, 900 * kPa, 2500 * kPa, NaN);
    // A closed valve lets the sides come together slowly; at ratio 1.7 the unit has long stopped.
    expect(d.push(620, 1150 * kPa, 1950 * kPa, NaN)).toBe(false);
    for (let t = 640; t < 900; t += 1) expect(d.push(t, 1400 * kPa, 1700 * kPa, NaN)).toBe(false);
    expect(d.push(905, 1250 * kPa, 1950 * kPa, NaN)).toBe(true);
  });

  it('knows that a unit runs with the hoses exchanged, and when it stops', () => {
    const d = createRunDetector();
    for (let t = 0; t < 300; t += 1) {
      expect(d.push(t, 2500 * kPa, 900 * kPa, NaN)).toBe(true);
    }
    expect(d.push(320, 1950 * kPa, 1150 * kPa, NaN)).toBe(false);
    expect(d.push(900, 1600 * kPa, 1610 * kPa, NaN)).toBe(false);
  });

  it('does not take a door or a fan for a stop', () => {
    const d = createRunDetector();
    for (let t = 0; t < 300; t += 1) d.push(t, 900 * kPa, 2500 * kPa, NaN);
    expect(d.push(301, 1000 * kPa, 2300 * kPa, NaN)).toBe(true);
  });

  it('does not take the recovery of a starved evaporator after the start for a stop', () => {
    // Low and high side, kPa, of a simulated fixed orifice in the first two minutes of running.
    const start = [
      [918, 918],
      [326, 1039],
      [146, 1051],
      [193, 1046],
      [262, 1069],
      [390, 1116],
      [487, 1186],
      [552, 1262],
      [574, 1300],
    ] as const;
    const d = createRunDetector();
    const seen = start.map(([low, high], i) => d.push(10 * i, low * kPa, high * kPa, NaN));
    expect(seen).toEqual([false, true, true, true, true, true, true, true, true]);
  });

  it('takes pressures apart for rest while no heat can flow, and sees the start from there', () => {
    const d = createRunDetector();
    for (let t = 0; t < 60; t += 1) {
      expect(d.push(t, 1600 * kPa, 2290 * kPa, NaN, true)).toBe(false);
    }
    expect(d.push(60, 1300 * kPa, 2400 * kPa, NaN, true)).toBe(true);
    expect(d.push(65, 1100 * kPa, 2500 * kPa, NaN, false)).toBe(true);
  });

  it('knows a stop behind a tight valve when no heat has flowed for half a minute', () => {
    const d = createRunDetector();
    for (let t = 0; t < 600; t += 1) d.push(t, 1200 * kPa, 2500 * kPa, NaN, false);
    for (let t = 600; t < 630; t += 1) {
      expect(d.push(t, 1500 * kPa, 2400 * kPa, NaN, true)).toBe(true);
    }
    expect(d.push(631, 1500 * kPa, 2400 * kPa, NaN, true)).toBe(false);
  });

  it('knows a stop by a collapse that a slow valve stretches over two minutes', () => {
    const d = createRunDetector();
    for (let t = 0; t < 600; t += 1) d.push(t, 900 * kPa, 2650 * kPa, NaN);
    // Low and high side, kPa, every 10 s after the stop of a simulated unit with a tight valve.
    const stop = [
      [905, 2675],
      [1017, 2499],
      [1045, 2430],
      [1076, 2375],
      [1098, 2337],
      [1120, 2299],
      [1141, 2265],
      [1162, 2233],
      [1182, 2204],
      [1202, 2177],
      [1222, 2151],
      [1240, 2127],
      [1260, 2104],
    ] as const;
    const seen = stop.map(([low, high], i) => d.push(600 + 10 * i, low * kPa, high * kPa, NaN));
    expect(seen.at(0)).toBe(true);
    expect(seen.at(-1)).toBe(false);
  });

  it('does not take a lower stage for a stop', () => {
    const d = createRunDetector();
    for (let t = 0; t < 600; t += 1) d.push(t, 900 * kPa, 2650 * kPa, NaN);
    // The ratio falls from 2.9 to 2.1 for good.
    for (let t = 600; t < 1200; t += 1) {
      expect(d.push(t, 1100 * kPa, 2300 * kPa, NaN)).toBe(true);
    }
  });

  it('tells rest from a start that is seen where the pressures were a little apart before', () => {
    const d = createRunDetector();
    for (let t = 0; t < 60; t += 1) expect(d.push(t, 1200 * kPa, 1400 * kPa, NaN)).toBe(false);
    expect(d.push(60, 1150 * kPa, 1450 * kPa, NaN)).toBe(false);
    expect(d.push(61, 950 * kPa, 1700 * kPa, NaN)).toBe(true);
  });

  it('takes a unit whose pressures have not come together for one that stands, however long', () => {
    const d = createRunDetector();
    // They close from ratio 1.2 and never reach 1.08: no air is measured, so heat tells nothing.
    for (let t = 0; t < 3600; t += 1) {
      const apart = 0.1 + 0.1 * Math.exp(-t / 900);
      expect(d.push(t, 1600 * kPa, 1600 * (1 + apart) * kPa, NaN)).toBe(false);
    }
  });

  it('believes the current where it is measured', () => {
    const d = createRunDetector();
    expect(d.push(0, 1600 * kPa, 1600 * kPa, 9)).toBe(true);
    expect(d.push(1, 900 * kPa, 2500 * kPa, 0.2)).toBe(false);
  });
});
