import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { BIN_S, createBinner, LATENESS_S } from '../../../../core/stream/binner.ts';

/** Arrivals whose times mostly go on, sometimes back, and sometimes jump far ahead. */
const arrivals = fc
  .array(
    fc.record({
      ahead: fc.oneof(
        { weight: 8, arbitrary: fc.double({ min: 0, max: 2, noNaN: true }) },
        { weight: 1, arbitrary: fc.double({ min: 0, max: 2000, noNaN: true }) },
      ),
      back: fc.oneof(
        { weight: 3, arbitrary: fc.constant(0) },
        { weight: 1, arbitrary: fc.double({ min: 0, max: 4, noNaN: true }) },
      ),
      value: fc.double({ min: -10, max: 10, noNaN: true }),
    }),
    { minLength: 1, maxLength: 80 },
  )
  .map((steps) => {
    let now = 100;
    return steps.map(({ ahead, back, value }) => ({ t: (now += ahead) - back, value }));
  });

describe('the binner', () => {
  it('puts every value that is in time into the bin of its second, once, and no other', () => {
    fc.assert(
      fc.property(arrivals, (all) => {
        const closed = new Map<number, { sum: number; n: number }>();
        let last = -Infinity;
        const binner = createBinner(1, ({ t, sums, counts, filled }) => {
          expect(t).toBeGreaterThan(last);
          expect(filled).toBe(counts[0]! > 0);
          last = t;
          closed.set(t, { sum: sums[0]!, n: counts[0]! });
        });
        const expected = new Map<number, { sum: number; n: number }>();
        let latest = -Infinity;
        for (const { t, value } of all) {
          latest = Math.max(latest, t);
          const end = (Math.floor(t / BIN_S) + 1) * BIN_S;
          // By the definition: a bin stays open for the lateness after its end, by the latest time.
          const inTime = end >= first(all) && end + LATENESS_S > latest;
          expect(binner.isLate(t)).toBe(!inTime && t < latest);
          expect(binner.add(0, t, value)).toBe(inTime);
          if (!inTime) continue;
          const bin = expected.get(end) ?? { sum: 0, n: 0 };
          expected.set(end, { sum: bin.sum + value, n: bin.n + 1 });
        }
        binner.finish();
        const filled = [...closed].filter(([, bin]) => bin.n > 0);
        expect(new Map(filled)).toEqual(expected);
      }),
      { numRuns: 500 },
    );
  });
});

/** The end of the bin in which the stream begins: what is before it is too late from the start. */
function first(all: readonly { readonly t: number }[]): number {
  return (Math.floor(all[0]!.t / BIN_S) + 1) * BIN_S;
}
