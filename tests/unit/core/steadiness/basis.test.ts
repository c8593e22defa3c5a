import { describe, expect, it } from 'vitest';
import { createBasis, layBasis, placeOf, TAUS } from '../../../../core/steadiness/basis.ts';
import { appendBlock, createBlocks, dropBefore } from '../../../../core/steadiness/blocks.ts';

const SECONDS = new Float64Array([5]);
const SUMS = new Float64Array([5]);

describe('layBasis', () => {
  it('lays out block after block what it lays out from nothing', () => {
    const blocks = createBlocks(1);
    const kept = createBasis();
    for (let t = 0; t < 4000; t += 5) {
      if (t === 1500) dropBefore(blocks, 1480);
      appendBlock(blocks, t, t + 5, SUMS, SECONDS);
      // A swing that comes and goes moves the slow modes to other places.
      const period = t % 600 < 200 ? 90 : 0;
      layBasis(kept, blocks, { horizon: 300, period, pace: 1 });
      if (t % 85 > 10) continue;
      const anew = createBasis();
      layBasis(anew, blocks, { horizon: 300, period, pace: 1 });
      expect(kept.terms).toBe(anew.terms);
      expect(kept.future).toEqual(anew.future);
      expect(kept.reach).toEqual(anew.reach);
      for (let a = 0; a < kept.terms; a += 1) {
        const of = kept.columns[a]?.subarray(0, kept.size);
        expect(of).toEqual(anew.columns[a]?.subarray(0, anew.size));
      }
    }
  });

  it('gives every mode its mean over each block, and leaves out only what is gone', () => {
    const blocks = createBlocks(1);
    for (let t = 0; t < 3000; t += 5) appendBlock(blocks, t, t + 5, SUMS, SECONDS);
    const basis = createBasis();
    layBasis(basis, blocks, { horizon: 300, period: 0, pace: 1 });
    TAUS.forEach((tau, k) => {
      for (let i = 0; i < basis.size; i += 1) {
        const from = (blocks.from[i] ?? 0) - basis.origin;
        const to = (blocks.to[i] ?? 0) - basis.origin;
        const mean = (tau * (Math.exp(-from / tau) - Math.exp(-to / tau))) / (to - from);
        const laid = basis.columns[placeOf(k, basis.terms)]?.[i] ?? NaN;
        expect(Math.abs(laid - mean)).toBeLessThan(3e-9);
      }
    });
  });
});
