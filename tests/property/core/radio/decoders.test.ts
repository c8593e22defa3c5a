import { describe, expect, it } from 'vitest';
import { fuzzDecoders } from '../../../radio/decoder-fuzz.ts';

describe('decoders under random and mutated packets', () => {
  it('never throw and never give a value outside physics (20 000 packets, every decoder)', () => {
    const report = fuzzDecoders(20_000, 4);
    expect(report.thrown).toEqual([]);
    expect(report.outOfRange).toEqual([]);
    // Mutants of right packets get through often enough for the ranges to be tested at all.
    expect(report.accepted).toBeGreaterThan(20_000);
  });
});
