import { describe, expect, it } from 'vitest';
import { createDetector } from '../../../../core/steadiness/detector.ts';
import { noise, play, SPECS, type Signal } from './driver.ts';

/** Superheat and subcooling decide, the others stand by. */
function standingBy(): ReturnType<typeof createDetector> {
  const decides = (key: string): boolean => key === 'superheat' || key === 'subcooling';
  const specs = SPECS.map((spec) => ({ ...spec, required: decides(spec.key) }));
  return createDetector({ specs, minimumRun: 600 });
}

/** The condensing temperature moves, K, the rest stands still. */
function condensingMoves(move: (t: number) => number): Signal {
  const random = noise(5);
  return (t) => [280, 315 + move(t) + 0.05 * random(), 6 + 0.1 * random(), 5, 11];
}

/** A sway to +0.6 K, across to −0.6 K within five minutes, and back. */
function sway(t: number): number {
  if (t < 1000 || t > 2300) return 0;
  if (t < 1500) return (0.6 * (t - 1000)) / 500;
  return t < 1800 ? 0.6 - (1.2 * (t - 1500)) / 300 : -0.6 + (0.6 * (t - 1800)) / 500;
}

describe('leaving the settled state', () => {
  it('does not happen for a condensing temperature that sways about its declared average', () => {
    const views = play(standingBy(), condensingMoves(sway), { from: 0, to: 3000 });
    expect(views.slice(700).every((view) => view.state === 'settled')).toBe(true);
  });

  it('happens when the condensing temperature goes on moving away from it', () => {
    const away = (t: number): number => -Math.max(0, t - 1000) / 200;
    const views = play(standingBy(), condensingMoves(away), { from: 0, to: 1500 });
    expect(views.find((view, i) => i > 1000 && view.state === 'moving')?.since).toBeLessThan(1320);
  });
});
