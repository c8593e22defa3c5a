import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { createHistory } from '../../../../core/stream/history.ts';

const CAPACITY = 60;

/** Frames with uneven steps, a value now and then absent. */
const frames = fc
  .array(
    fc.record({
      step: fc.double({ min: 0.1, max: 7, noNaN: true }),
      value: fc.oneof(
        { weight: 4, arbitrary: fc.double({ min: -100, max: 100, noNaN: true }) },
        { weight: 1, arbitrary: fc.constant(NaN) },
      ),
    }),
    { minLength: 1, maxLength: 150 },
  )
  .map((steps) => {
    let t = 0;
    return steps.map(({ step, value }) => ({ t: (t += step), value }));
  });

describe('the history of frames', () => {
  it('averages every value of the window that it still keeps, however it is cut into blocks', () => {
    fc.assert(
      fc.property(
        frames,
        fc.nat(),
        fc.nat(),
        fc.integer({ min: 1, max: 13 }),
        (all, a, b, blocks) => {
          const history = createHistory(CAPACITY, 1);
          for (const { t, value } of all) history.push(t, Float64Array.of(value));
          const kept = all.slice(-CAPACITY);
          expect([history.oldest(), history.newest()]).toEqual([kept[0]!.t, kept.at(-1)!.t]);
          // The window begins and ends at frames, where rounding could lose one.
          const [i, j] = [a % kept.length, b % kept.length].sort((x, y) => x - y) as [
            number,
            number,
          ];
          const from = kept[i]!.t;
          const to = kept[j]!.t;
          const inside = kept.filter(({ t, value }) => t > from && t <= to && !Number.isNaN(value));
          const average = history.average(0, from, to, blocks);
          if (inside.length === 0) {
            expect(average).toBeNull();
            return;
          }
          const mean = inside.reduce((sum, { value }) => sum + value, 0) / inside.length;
          expect(average?.n).toBe(inside.length);
          expect(average?.mean).toBeCloseTo(mean, 9);
          expect(average?.blocks).toBeLessThanOrEqual(Math.min(blocks, inside.length));
        },
      ),
      { numRuns: 2000 },
    );
  });
});
