import { describe, expect, it } from 'vitest';
import { Creep } from '../../../../core/steadiness/creep.ts';
import { detectorFor, noise, play, superheatMoves } from './driver.ts';

describe('Creep', () => {
  it('is a second departure the same way within ten minutes, until the movement slows down', () => {
    const creep = new Creep(2);
    creep.left(1, -0.6, 1000);
    expect(creep.goesOn(1, -0.5, 0.3)).toBe(false);
    creep.left(1, -0.7, 1500);
    expect(creep.goesOn(1, -0.5, 0.3)).toBe(true);
    expect(creep.goesOn(0, -0.5, 0.3)).toBe(false);
    expect(creep.goesOn(1, -0.2, 0.3)).toBe(false);
    expect(creep.goesOn(1, -0.5, 0.3)).toBe(false);
  });

  it('is not a departure back, nor one much later', () => {
    const creep = new Creep(1);
    creep.left(0, 0.6, 0);
    creep.left(0, -0.6, 300);
    expect(creep.goesOn(0, -0.5, 0.3)).toBe(false);
    creep.left(0, -0.6, 1000);
    expect(creep.goesOn(0, -0.5, 0.3)).toBe(false);
  });
});

describe('a superheat on a ramp of 0.16 K (0.29 °F) a minute that began at rest', () => {
  const random = noise(11);
  const ramp = superheatMoves((t) => 0.16 * Math.max(0, (t - 900) / 60) + 0.05 * random());
  const views = play(detectorFor(), ramp, { from: 0, to: 3000 });

  it('is not declared anew again and again', () => {
    const declared = new Set(views.flatMap((view) => view.declaredAt ?? []));
    expect(declared.size).toBeLessThanOrEqual(3);
    expect(views.slice(1800).every((view) => view.state === 'moving')).toBe(true);
  });

  it('is told as something that goes on, as long as it does', () => {
    expect(views.at(-1)?.reason).toMatchObject({ code: 'goesOn', quantity: 'superheat' });
  });
});
