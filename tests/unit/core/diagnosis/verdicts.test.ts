import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { judgeReading, verdictOf } from '../../../../core/diagnosis/verdicts.ts';
import type { Target } from '../../../../core/diagnosis/types.ts';

const target = (u: number): Target => ({
  quantity: 'subcooling',
  value: 5,
  u,
  low: 4,
  high: 6,
  source: { code: 'nameplate' },
  fromMemory: false,
});

describe('verdicts', () => {
  it('decides only where the whole interval lies on one side', () => {
    expect(verdictOf(5, 0.5, 4, 6)).toBe('within');
    expect(verdictOf(5.6, 0.5, 4, 6)).toBe('undecided');
    expect(verdictOf(6.4, 0.5, 4, 6)).toBe('undecided');
    expect(verdictOf(6.6, 0.5, 4, 6)).toBe('above');
    expect(verdictOf(3.4, 0.5, 4, 6)).toBe('below');
    expect(verdictOf(5, 3, 4, 6)).toBe('undecided');
  });

  it('gives probabilities of the normal distribution: 97.7 % at k = 2', () => {
    const row = judgeReading({ value: 7, u: 1 }, target(0));
    expect(row.probability.above).toBeCloseTo(0.97725, 4);
    expect(judgeReading({ value: 6, u: 1 }, target(0)).probability.above).toBeCloseTo(0.5, 4);
  });

  it("counts the target's own uncertainty", () => {
    expect(judgeReading({ value: 6.7, u: 0.5 }, target(0)).verdict).toBe('above');
    const row = judgeReading({ value: 6.7, u: 0.5 }, target(1));
    expect(row.verdict).toBe('undecided');
    expect(row.u).toBeCloseTo(Math.hypot(0.5, 1), 12);
  });

  it('always sums to one and never decides against the odds', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -20, max: 30, noNaN: true }),
        fc.double({ min: 0, max: 10, noNaN: true }),
        (value, u) => {
          const { probability, verdict } = judgeReading({ value, u }, target(0));
          const sum = probability.below + probability.within + probability.above;
          expect(sum).toBeCloseTo(1, 5);
          if (verdict !== 'undecided') expect(probability[verdict]).toBeGreaterThan(0.95);
        },
      ),
    );
  });
});
