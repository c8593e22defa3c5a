import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Sway } from '../../../../core/steadiness/sway.ts';
import { detectorFor, noise, play, superheatMoves } from './driver.ts';

const HORIZON = 300;
const BLOCK = 5;

/** A watch over one quantity of tolerance 1 K that claims to rest wherever it is. */
function watch(move: (t: number) => number, until: number, events: readonly number[] = []): Sway {
  const sway = new Sway([1], HORIZON);
  for (let t = BLOCK; t <= until; t += BLOCK) {
    if (events.includes(t)) sway.overtake();
    sway.block(0, move(t), BLOCK);
    sway.check(t);
    sway.note(t, () => move(t));
  }
  return sway;
}

/** Sun and cloud: two levels, of which each lasts for one to five minutes. */
function sunAndCloud(seed: number, depth: number): (t: number) => number {
  const random = noise(seed);
  const edges = [0];
  while ((edges.at(-1) ?? 0) < 20_000) {
    edges.push((edges.at(-1) ?? 0) + 60 + Math.min(240, 120 * Math.abs(random())));
  }
  return (t) => (edges.findIndex((edge) => edge > t) % 2 === 0 ? depth : -depth);
}

describe('swaying', () => {
  it('is told of what goes to and fro, in proportion to the square of how far', () => {
    const once = watch(sunAndCloud(3, 1), 3000).variance(0);
    const half = watch(sunAndCloud(3, 0.5), 3000).variance(0);
    expect(once).toBeGreaterThan(0.5);
    expect(half).toBeCloseTo(once / 4, 9);
  });

  it('is not told of anything that goes one way, however far', () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: 0, max: 5, noNaN: true }), { minLength: 1, maxLength: 20 }),
        fc.constantFrom(1, -1),
        (steps, way) => {
          const levels = steps.reduce((sums, s) => [...sums, (sums.at(-1) ?? 0) + way * s], [0]);
          const sway = watch(
            (t) => levels[Math.min(levels.length - 1, Math.floor(t / 150))] ?? 0,
            2400,
          );
          expect(sway.variance(0)).toBeCloseTo(0, 12);
        },
      ),
    );
  });

  it('is not told of an event and what undoes it', () => {
    const door = (t: number): number => (t > 900 && t <= 2100 ? 3 : 0);
    expect(watch(door, 3000, [905, 2105]).variance(0)).toBe(0);
    expect(watch(door, 3000).variance(0)).toBeGreaterThan(0.3);
  });

  it('is told of events that follow each other', () => {
    const sun = sunAndCloud(3, 1);
    const edges = Array.from({ length: 600 }, (_, i) => BLOCK * (i + 1)).filter(
      (t) => sun(t) !== sun(t - BLOCK),
    );
    expect(edges.length).toBeGreaterThan(10);
    expect(watch(sun, 3000, edges).variance(0)).toBeGreaterThan(0.5);
  });

  it('is forgotten once it is over', () => {
    const sun = sunAndCloud(5, 1);
    const move = (t: number): number => (t < 3000 ? sun(t) : 0);
    const then = watch(move, 3000).variance(0);
    expect(watch(move, 3000 + 2400).variance(0)).toBeLessThan(0.15 * then);
  });

  it('says nothing of a quantity that claims nothing, or was not seen', () => {
    const sway = new Sway([1, 1], HORIZON);
    const sun = sunAndCloud(7, 1);
    for (let t = BLOCK; t <= 3000; t += BLOCK) {
      sway.block(0, sun(t), BLOCK);
      sway.block(1, NaN, BLOCK);
      sway.check(t);
      sway.note(t, (q) => (q === 0 ? NaN : 0));
    }
    expect([sway.variance(0), sway.variance(1)]).toEqual([0, 0]);
  });

  it('of a superheat under sun and cloud is not called still in a lull', () => {
    let falls = 0;
    for (const seed of [11, 12, 13, 14, 15, 16]) {
      const sun = sunAndCloud(seed, 0.8);
      const random = noise(seed);
      let x = 0;
      // The pipe follows within half a minute.
      const levels = Array.from({ length: 4200 }, (_, t) => (x += (sun(t) - x) / 25));
      const signal = superheatMoves((t) => (levels[Math.floor(t)] ?? x) + 0.05 * random());
      const views = play(detectorFor(600), signal, { from: 0, to: 4199, dt: 1 });
      const mean = (from: number, to: number): number =>
        levels.slice(from, to).reduce((a, b) => a + b, 0) / (to - from);
      views.forEach((view, i) => {
        const { window } = view;
        if (i < 1800 || i > 3800 || view.declaredAt !== i + 1 || window === null) return;
        const said = mean(Math.round(window.from), Math.round(window.to));
        if (Math.abs(said - mean(i, i + HORIZON)) > 5 / 9) falls += 1;
      });
    }
    expect(falls).toBe(0);
  });
});
