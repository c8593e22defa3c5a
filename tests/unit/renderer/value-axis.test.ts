import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { valueAxis } from '../../../renderer/charts/value-axis.ts';

const COUNTS = [4, 5, 6, 7];

describe('an axis of values', () => {
  it('takes round marks that leave little room empty', () => {
    expect(valueAxis(55, 168, COUNTS, 0)).toEqual({ marks: [50, 100, 150, 200], decimals: 0 });
    expect(valueAxis(98, 390, COUNTS, 0).marks).toEqual([0, 100, 200, 300, 400]);
  });

  it('writes all marks with the same decimals', () => {
    expect(valueAxis(8.08, 8.12, COUNTS, 0).decimals).toBe(2);
  });

  it('does not let noise fill it', () => {
    const { marks } = valueAxis(12, 12.02, COUNTS, 2);
    expect((marks.at(-1) ?? 0) - (marks[0] ?? 0)).toBeGreaterThanOrEqual(2);
  });

  it('holds all values between its ends, in steps of 1, 2 or 5', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -100, max: 700, noNaN: true }),
        fc.double({ min: 0.05, max: 600, noNaN: true }),
        (least, span) => {
          const { marks } = valueAxis(least, least + span, COUNTS, 0);
          const [a = NaN, b = NaN] = marks;
          const step = b - a;
          const lead = Number((step / 10 ** Math.floor(Math.log10(step * (1 + 1e-9)))).toFixed(6));
          expect([1, 2, 5]).toContain(lead);
          expect(a).toBeLessThanOrEqual(least + 1e-9);
          expect(marks.at(-1)).toBeGreaterThanOrEqual(least + span - 1e-9);
          expect(marks.length).toBeLessThanOrEqual(7);
        },
      ),
      { numRuns: 500 },
    );
  });
});
