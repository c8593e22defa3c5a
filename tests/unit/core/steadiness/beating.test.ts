import { describe, expect, it } from 'vitest';
import { detectorFor, noise, play, superheatMoves } from './driver.ts';

/** Two sines of the same amplitude: the swing comes and goes with the beat of their periods. */
function beating(first: number, second: number, amplitude: number): (t: number) => number {
  return (t) =>
    amplitude * (Math.sin((2 * Math.PI * t) / first) + Math.sin((2 * Math.PI * t) / second));
}

describe('two swings that beat', () => {
  for (const [first, second] of [
    [80, 95],
    [60, 70],
    [110, 140],
  ] as const) {
    it(`of ${first} s and ${second} s are hunting, never settled`, () => {
      const random = noise(first);
      const move = beating(first, second, 3);
      const signal = superheatMoves((t) => move(t) + 0.1 * random());
      const views = play(detectorFor(600), signal, { from: 0, to: 3000 });
      expect(views.some((view) => view.state === 'settled')).toBe(false);
      expect(views.filter((view) => view.state === 'hunting').length).toBeGreaterThan(1800);
    });
  }

  it('are forgotten within three of their periods when they stop', () => {
    const move = beating(80, 95, 3);
    const signal = superheatMoves((t) => (t < 1600 ? move(t) : 0));
    const views = play(detectorFor(600), signal, { from: 0, to: 2400 });
    const last = views.findLast((view) => view.state === 'hunting')?.runTime ?? NaN;
    expect(last).toBeGreaterThan(1500);
    expect(last).toBeLessThan(1600 + 3 * 95);
  });
});
