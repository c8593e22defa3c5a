import { describe, expect, it } from 'vitest';
import { createBinner } from '../../../../core/stream/binner.ts';

function collect(feed: (binner: ReturnType<typeof createBinner>) => void) {
  const bins: { t: number; mean: number | null }[] = [];
  const binner = createBinner(1, (bin) => {
    const n = bin.counts[0]!;
    bins.push({ t: bin.t, mean: n === 0 ? null : bin.sums[0]! / n });
  });
  feed(binner);
  return bins;
}

describe('createBinner', () => {
  it('averages what falls into each second and closes it one second later', () => {
    const bins = collect((b) => {
      b.add(0, 10.0, 1);
      b.add(0, 10.5, 3);
      b.add(0, 11.0, 5);
      b.advance(12.0);
    });
    expect(bins).toEqual([{ t: 11, mean: 2 }]);
  });

  it('takes a late sample while its bin is open, and refuses it after', () => {
    const bins = collect((b) => {
      b.add(0, 0.1, 1);
      b.add(0, 1.5, 9);
      expect(b.add(0, 0.9, 3)).toBe(true);
      b.advance(2.0);
      expect(b.add(0, 0.95, 100)).toBe(false);
      b.finish();
    });
    expect(bins).toEqual([
      { t: 1, mean: 2 },
      { t: 2, mean: 9 },
      { t: 3, mean: null },
    ]);
  });

  it('passes over a long silence without walking through every second of it', () => {
    const bins = collect((b) => {
      b.add(0, 0, 1);
      b.add(0, 1e7, 2);
      b.finish();
    });
    expect(bins.length).toBeLessThan(200);
    expect(bins[0]).toEqual({ t: 1, mean: 1 });
    expect(bins.at(-1)).toEqual({ t: 1e7 + 1, mean: 2 });
  });

  it('works from a negative time on', () => {
    const bins = collect((b) => {
      b.add(0, -2.5, 4);
      b.add(0, -1.5, 6);
      b.finish();
    });
    expect(bins).toEqual([
      { t: -2, mean: 4 },
      { t: -1, mean: 6 },
    ]);
  });
});
