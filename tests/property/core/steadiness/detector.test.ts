import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { createDetector } from '../../../../core/steadiness/detector.ts';
import type { Frame, SteadinessView } from '../../../../core/steadiness/types.ts';
import { detectorFor, noise, SPECS } from '../../../unit/core/steadiness/driver.ts';

/** Frames of an approach with noise, now and then without a value. */
function drawn(seed: number, seconds: number, dt: number): Frame[] {
  const random = noise(seed);
  const tau = 40 + (seed % 300);
  const frames: Frame[] = [];
  for (let t = dt; t <= seconds; t += dt) {
    const move = 8 * Math.exp(-t / tau);
    const lost = Math.abs(random()) > 2.6;
    const values = [280 + 0.3 * move, 315, lost ? NaN : 6 + move + 0.1 * random(), 5, 11 - move];
    frames.push({ t, dt, values, running: true });
  }
  return frames;
}

function viewsOf(frames: readonly Frame[], tolerance = 1): SteadinessView[] {
  const specs = SPECS.map((spec) => ({ ...spec, tolerance: tolerance * spec.tolerance }));
  const detector = createDetector({ specs, minimumRun: 120 });
  return frames.map((frame) => {
    detector.push(frame);
    return detector.view();
  });
}

const seeds = fc.integer({ min: 0, max: 100_000 });

describe('detector', () => {
  it('says the same of the same frames', () => {
    fc.assert(
      fc.property(seeds, (seed) => {
        const frames = drawn(seed, 500, 1);
        expect(viewsOf(frames)).toEqual(viewsOf(frames));
      }),
      { numRuns: 5 },
    );
  });

  it('starts anew after a reset', () => {
    fc.assert(
      fc.property(seeds, (seed) => {
        const frames = drawn(seed, 400, 1);
        const used = detectorFor(120);
        for (const frame of drawn(seed + 1, 300, 1)) used.push(frame);
        used.reset();
        const fresh = detectorFor(120);
        for (const frame of frames) {
          used.push(frame);
          fresh.push(frame);
        }
        expect(used.view()).toEqual(fresh.view());
      }),
      { numRuns: 5 },
    );
  });

  it('does not care where zero is', () => {
    fc.assert(
      fc.property(seeds, fc.integer({ min: -64, max: 64 }), (seed, offset) => {
        const frames = drawn(seed, 600, 1);
        const moved = frames.map((f) => ({ ...f, values: f.values.map((v) => v + offset) }));
        const states = viewsOf(frames).map((view) => view.state);
        expect(viewsOf(moved).map((view) => view.state)).toEqual(states);
      }),
      { numRuns: 5 },
    );
  });

  it('passes over frames that go back in time', () => {
    fc.assert(
      fc.property(seeds, (seed) => {
        const frames = drawn(seed, 400, 1);
        const stale = frames.flatMap((f, i) => {
          const earlier = frames[i - 30];
          return earlier !== undefined && i % 50 === 0 ? [f, earlier] : [f];
        });
        const plain = detectorFor(0);
        const disturbed = detectorFor(0);
        for (const frame of frames) plain.push(frame);
        for (const frame of stale) disturbed.push(frame);
        expect(disturbed.view().state).toBe(plain.view().state);
        expect(disturbed.view().window).toEqual(plain.view().window);
      }),
      { numRuns: 5 },
    );
  });

  it('settles on any constant, at any frame length', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 5 }),
        fc.double({ min: -5, max: 60, noNaN: true }),
        (dt, level) => {
          const frames: Frame[] = [];
          for (let t = dt; t <= 900; t += dt) {
            frames.push({ t, dt, values: [280, 315, level, 5, 11], running: true });
          }
          expect(viewsOf(frames).at(-1)?.state).toBe('settled');
        },
      ),
      { numRuns: 10 },
    );
  });

  it('settles on hardly any ramp that moves two tolerances and more over the horizon', () => {
    // It promises a probability, not a certainty: of 1500 such ramps 7 were called still for a
    // moment, soon after the minimum run time. The same ramps are drawn every time, so that the
    // share is what is tested and not the luck of the draw.
    const ramp = fc.tuple(seeds, fc.double({ min: 2.2, max: 8, noNaN: true }));
    const settled = fc.sample(ramp, { seed: 20_261_125, numRuns: 100 }).filter(([seed, steep]) => {
      const random = noise(seed);
      const rate = (steep * (5 / 9)) / 300;
      const frames: Frame[] = [];
      for (let t = 1; t <= 1500; t += 1) {
        const values = [280, 315, 6 + rate * t + 0.03 * random(), 5, 11];
        frames.push({ t, dt: 1, values, running: true });
      }
      return viewsOf(frames).some((view) => view.state === 'settled');
    });
    expect(settled.length).toBeLessThanOrEqual(2);
  });
});
