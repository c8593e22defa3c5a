import { describe, expect, it } from 'vitest';
import type { SteadinessView } from '../../../../core/steadiness/types.ts';
import { detectorFor, noise, play, visits, type Signal } from './driver.ts';

/** When the disturbance is, s; long after all is called settled. */
const AT = 900;

/** What the sensors show: two saturations, two lines and the air, K. */
type Readings = readonly [number, number, number, number, number];

/** Sensors at rest with noise, moved by a function of time, in the quantities that come of them. */
function sensors(seed: number, sd: number, move: (t: number, at: Readings) => Readings): Signal {
  const random = noise(seed);
  return (t) => {
    const rest = [280, 315, 286, 310, 11].map((y) => y + sd * random());
    const [low, high, suction, liquid, air] = move(t, rest as unknown as Readings);
    return [low, high, suction - low, high - liquid, air];
  };
}

/** Seconds after the disturbance at which it is named; NaN where it is not. */
function namedAfter(views: readonly SteadinessView[], dt: number): number {
  const before = Math.floor(AT / dt);
  expect(views[before - 1]?.state).toBe('settled');
  const i = views.findIndex((view, k) => k >= before && view.state === 'disturbed');
  return i < 0 ? NaN : (i + 1) * dt - AT;
}

describe('a disturbance', () => {
  it('of both sides of the circuit is named with the first value that shows it', () => {
    for (const dt of [1, 2, 5]) {
      const signal = sensors(11, 0.05, (t, [low, high, ...rest]) =>
        t > AT ? [low + 2, high - 1.5, ...rest] : [low, high, ...rest],
      );
      const views = play(detectorFor(), signal, { from: 0, to: AT + 60, dt });
      expect(namedAfter(views, dt), `${dt} s`).toBe(dt);
      expect(visits(views.slice(0, Math.floor(AT / dt)), 'disturbed')).toBe(false);
    }
  });

  it('of one sensor is named with its second value where these differ', () => {
    for (const dt of [1, 2, 5]) {
      const signal = sensors(13, 0.05, (t, [low, ...rest]) =>
        t > AT ? [low - 1, ...rest] : [low, ...rest],
      );
      const views = play(detectorFor(), signal, { from: 0, to: AT + 60, dt });
      expect(namedAfter(views, dt), `${dt} s`).toBe(2 * dt);
    }
  });

  it('after which a display stands at one number is named when that has stood for ten seconds', () => {
    for (const [dt, seconds] of [
      [1, 10],
      [2, 10],
      [5, 15],
    ] as const) {
      const signal = sensors(19, 0.05, (t, [low, high, suction, liquid, air]) => [
        low,
        high,
        suction,
        liquid,
        t > AT ? 9 : air,
      ]);
      const views = play(detectorFor(), signal, { from: 0, to: AT + 60, dt });
      expect(namedAfter(views, dt), `${dt} s`).toBe(seconds);
    }
  });

  it('that moves superheat by two tolerances in ten seconds is named in these', () => {
    for (let seed = 1; seed <= 20; seed += 1) {
      const signal = sensors(seed, 0.1, (t, [low, high, suction, ...rest]) => [
        low,
        high,
        suction + (1.1 * Math.min(10, Math.max(0, t - AT))) / 10,
        ...rest,
      ]);
      const views = play(detectorFor(), signal, { from: 0, to: AT + 60 });
      expect(namedAfter(views, 1), `seed ${seed}`).toBeLessThanOrEqual(10);
    }
  });
});

describe('no disturbance', () => {
  it.each([
    ['a suction pressure', 0],
    ['a liquid pressure', 1],
    ['a suction line', 2],
    ['a liquid line', 3],
    ['the air', 4],
  ] as const)('is one wild reading of %s that is sent again', (_, which) => {
    for (const [dt, times] of [
      [1, 1],
      [1, 2],
      [1, 3],
      [1, 4],
      [2, 2],
      [5, 2],
    ] as const) {
      const wild = 20;
      const signal = sensors(17 + which, 0.05, (t, at) => {
        const shown = [...at];
        if (t > AT && t <= AT + times * dt) shown[which] = 285 + wild;
        return shown as unknown as Readings;
      });
      const views = play(detectorFor(), signal, { from: 0, to: AT + 300, dt });
      expect(views[Math.floor(AT / dt) - 1]?.state).toBe('settled');
      expect(visits(views, 'disturbed'), `${times} times at ${dt} s`).toBe(false);
    }
  });

  it('is a display in whole degrees that flips by its last digit', () => {
    const degree = 5 / 9;
    for (let seed = 1; seed <= 10; seed += 1) {
      const random = noise(seed);
      // Between two degrees: it flips at every whim of the noise, and then and then stays for long.
      const round = (y: number): number => Math.round((y + 0.08 * random()) / degree) * degree;
      const sway = (t: number): number => 0.15 * Math.sin(t / 97);
      const signal: Signal = (t) => {
        const [low, high] = [round(280 + sway(t)), round(315 + sway(t + 50))];
        const [suction, liquid] = [round(286.1 + sway(t + 20)), round(310 - sway(t))];
        return [low, high, suction - low, high - liquid, round(11)];
      };
      const views = play(detectorFor(), signal, { from: 0, to: 2400 });
      expect(visits(views, 'disturbed'), `seed ${seed}`).toBe(false);
    }
  });

  it('that is only beginning lets nothing be called still before it is named', () => {
    for (const seed of [41, 43, 47]) {
      const until = 1500;
      const settling = (from: number): Signal =>
        sensors(seed, 0.05, (t, [low, high, suction, ...rest]) => [
          low - 0.06 * Math.max(0, t - from),
          high,
          suction + 6 * Math.exp(-t / 100),
          ...rest,
        ]);
      const calm = play(detectorFor(), settling(Infinity), { from: 0, to: until, dt: 1 });
      const settled = calm.findIndex((view) => view.state === 'settled');
      expect(settled).toBeGreaterThan(0);
      const views = play(detectorFor(), settling(settled - 8), {
        from: 0,
        to: settled + 30,
        dt: 1,
      });
      expect(views.findIndex((view) => view.state === 'settled')).toBe(-1);
      expect(visits(views, 'disturbed'), `seed ${seed}`).toBe(true);
    }
  });
});
