import { describe, expect, it } from 'vitest';
import { Random } from '../../../../core/plant/random.ts';

describe('Random', () => {
  it('gives the reference outputs of xoshiro128** for the state 1, 2, 3, 4', () => {
    // First outputs of the reference implementation (Blackman and Vigna, prng.di.unimi.it; from memory
    // of the test vectors shipped with several libraries).
    const r = Random.fromState(1, 2, 3, 4);
    const seen = Array.from({ length: 4 }, () => r.nextUint32());
    expect(seen).toEqual([11520, 0, 5927040, 70819200]);
  });

  it('repeats itself for a seed and name, and differs for another name', () => {
    const of = (seed: number, name: string): number[] => {
      const r = Random.named(seed, name);
      return Array.from({ length: 5 }, () => r.uniform());
    };
    expect(of(5, 'gust')).toEqual(of(5, 'gust'));
    expect(of(5, 'gust')).not.toEqual(of(5, 'draught'));
    expect(of(5, 'gust')).not.toEqual(of(6, 'gust'));
  });

  it('has the moments of its distributions', () => {
    const r = Random.named(1, 'moments');
    const n = 40_000;
    let u = 0;
    let z = 0;
    let zz = 0;
    let e = 0;
    for (let i = 0; i < n; i += 1) {
      u += r.uniform() / n;
      const x = r.normal();
      z += x / n;
      zz += (x * x) / n;
      e += r.exponential(3) / n;
    }
    // Five standard errors of each mean.
    expect(Math.abs(u - 0.5)).toBeLessThan((5 * Math.sqrt(1 / 12)) / Math.sqrt(n));
    expect(Math.abs(z)).toBeLessThan(5 / Math.sqrt(n));
    expect(Math.abs(zz - 1)).toBeLessThan((5 * Math.SQRT2) / Math.sqrt(n));
    expect(Math.abs(e - 3)).toBeLessThan((5 * 3) / Math.sqrt(n));
  });
});
