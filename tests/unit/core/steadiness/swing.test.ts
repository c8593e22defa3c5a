import { describe, expect, it } from 'vitest';
import {
  createSwingFinder,
  type Swing,
  type SwingFinder,
} from '../../../../core/steadiness/swing.ts';
import { reasonText } from '../../../../core/steadiness/reason-text.ts';
import { detectorFor, noise, play, superheatMoves } from './driver.ts';

/** Feeds block means of 5 s and searches every 25 s; gives the first time and the last swing. */
function look(
  finder: SwingFinder,
  move: (t: number) => number,
  to: number,
): { readonly first: number; readonly last: Swing | null } {
  let first = NaN;
  let last: Swing | null = null;
  for (let t = 5; t <= to; t += 5) {
    finder.block(move(t - 2.5), 5, 5, 1);
    if (t % 25 !== 0) continue;
    last = finder.search(0.15);
    if (last !== null && Number.isNaN(first)) first = t;
  }
  return { first, last };
}

const SHAPES: Readonly<Record<string, (turn: number) => number>> = {
  sine: (turn) => Math.sin(2 * Math.PI * turn),
  sawtooth: (turn) => 2 * (turn - Math.floor(turn)) - 1,
  'limit cycle': (turn) => Math.tanh(3 * Math.sin(2 * Math.PI * turn)) / Math.tanh(3),
};

describe('a swing', () => {
  for (const period of [45, 97, 200, 420, 590]) {
    for (const [name, shape] of Object.entries(SHAPES)) {
      it(`of ${period} s as a ${name} from the start on is found after about three periods`, () => {
        const random = noise(period);
        const start = (t: number): number => 8 * Math.exp(-t / 40);
        const move = (t: number): number => 3 * shape(t / period) + start(t) + 0.1 * random();
        const { first, last } = look(createSwingFinder(), move, 4 * period + 200);
        expect(first).toBeLessThan(3.2 * period + 150);
        expect(Math.abs((last?.period ?? NaN) / period - 1)).toBeLessThan(0.1);
        expect(Math.abs((last?.amplitude ?? NaN) / 3 - 1)).toBeLessThan(0.2);
      });
    }
  }

  it('goes on being known while its amplitude and period wander', () => {
    const finder = createSwingFinder();
    let turn = 0;
    let lost = 0;
    for (let t = 5; t <= 3600; t += 5) {
      turn += 5 / (90 * (1 + 0.1 * Math.sin(t / 211)));
      const amplitude = 3 * (1 + 0.3 * Math.sin(t / 157));
      finder.block(amplitude * (SHAPES['sawtooth']?.(turn) ?? NaN), 5, 5, 1);
      if (t % 25 === 0 && finder.search(0.15) === null && t > 600) lost += 1;
    }
    expect(lost).toBe(0);
  });

  it('that stops is forgotten within three periods', () => {
    const finder = createSwingFinder();
    const move = (t: number): number => (t < 900 ? 3 * Math.sin((2 * Math.PI * t) / 90) : 0);
    let end = NaN;
    for (let t = 5; t <= 1800; t += 5) {
      finder.block(move(t), 5, 5, 1);
      if (t % 25 === 0 && finder.search(0.15) === null && t > 900 && Number.isNaN(end)) end = t;
    }
    expect(end).toBeLessThan(900 + 3 * 90);
  });

  it('is not found in ringing that dies away', () => {
    const ring = (t: number): number => 5 * Math.exp(-t / 150) * Math.sin((2 * Math.PI * t) / 120);
    expect(look(createSwingFinder(), ring, 1200).first).toBeNaN();
  });
});

describe('hunting', () => {
  const hunts = (t: number): number => 4 * Math.sin((2 * Math.PI * t) / 200);

  it('that begins with the run is named when the minimum run time is over', () => {
    const fast = (t: number): number => 4 * Math.sin((2 * Math.PI * t) / 97);
    const views = play(detectorFor(600), superheatMoves(fast), { from: 0, to: 900 });
    expect(views.find((v) => v.state === 'hunting')?.since).toBeLessThan(606);
  });

  it('of 200 s that begins with the run is named within three and a half periods', () => {
    const views = play(detectorFor(600), superheatMoves(hunts), { from: 0, to: 900 });
    expect(views.find((v) => v.state === 'hunting')?.since).toBeLessThan(3.5 * 200);
  });

  it('with sharp edges is hunting, not one disturbance after another', () => {
    const edges = (t: number): number => (t % 150 < 60 ? 6 : -4);
    const views = play(detectorFor(600), superheatMoves(edges), { from: 0, to: 2400 });
    expect(views.filter((v) => v.runTime! > 700).every((v) => v.state === 'hunting')).toBe(true);
  });

  it('about a mean that runs away is named, declares no average and says so', () => {
    const away = (t: number): number => hunts(t) + t / 100;
    const views = play(detectorFor(600), superheatMoves(away), { from: 0, to: 1500 });
    const last = views.at(-1)!;
    expect(last.state).toBe('hunting');
    expect(last.declaredAt).toBeNull();
    expect(reasonText(last.reason)).toMatch(/about a mean that is not at rest: .* rising/);
  });

  it('about a still mean declares its average', () => {
    const last = play(detectorFor(600), superheatMoves(hunts), { from: 0, to: 2400 }).at(-1)!;
    expect(last.declaredAt).not.toBeNull();
    expect(Math.abs(last.motions[2]!.value! - 6)).toBeLessThan(0.15);
  });
});
