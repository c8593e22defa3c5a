import { describe, expect, it } from 'vitest';
import {
  appendBlock,
  createBlocks,
  dropBefore,
  meanOver,
  type Blocks,
} from '../../../../core/steadiness/blocks.ts';
import { noise } from './driver.ts';

/** The mean block by block, as its definition says. */
function plainMean(blocks: Blocks, q: number, from: number, to: number): number | null {
  let sum = 0;
  let seconds = 0;
  for (let i = 0; i < blocks.size; i += 1) {
    const start = blocks.from[i] ?? 0;
    const end = blocks.to[i] ?? 0;
    const overlap = Math.min(end, to) - Math.max(start, from);
    if (overlap <= 0) continue;
    const at = i * blocks.quantities + q;
    const s = ((blocks.seconds[at] ?? 0) * overlap) / (end - start);
    sum += s * (blocks.mean[at] ?? 0);
    seconds += s;
  }
  return seconds > 0 ? sum / seconds : null;
}

/** Adds blocks of 5 s with a silence now and then; the second quantity is there half of the time. */
function watch(blocks: Blocks, from: number, to: number): void {
  const random = noise(from + 1);
  for (let t = from; t < to; t += 5) {
    if (t % 700 < 30) continue;
    const seconds = new Float64Array([5, t % 400 < 200 ? 4 : 0]);
    const sums = seconds.map((s) => s * (290 + random()));
    appendBlock(blocks, t, t + 5, sums, seconds);
  }
}

describe('meanOver', () => {
  it('is the mean of the blocks in a window, cut in proportion at its ends', () => {
    const blocks = createBlocks(2);
    for (let t = 0; t < 6000; t += 250) {
      watch(blocks, t, t + 250);
      const now = t + 250;
      for (const [from, to] of [
        [now - 45, now],
        [now - 480, now],
        [now - 213, now - 151],
        [now - 3, now - 1],
        [now - 5000, now - 300],
        [now, now + 10],
        [-50, 0],
      ] as const) {
        for (const q of [0, 1]) {
          const expected = plainMean(blocks, q, from, to);
          const mean = meanOver(blocks, q, from, to);
          if (expected === null) expect(mean).toBeNull();
          else expect(mean).toBeCloseTo(expected, 9);
        }
      }
    }
  });

  it('holds after the past was cut off', () => {
    const blocks = createBlocks(2);
    watch(blocks, 0, 3000);
    dropBefore(blocks, 2950);
    watch(blocks, 3000, 3300);
    expect(meanOver(blocks, 0, 0, 3300)).toBeCloseTo(plainMean(blocks, 0, 0, 3300) ?? NaN, 9);
    expect(meanOver(blocks, 0, 0, 2950)).toBeNull();
    dropBefore(blocks, 9000);
    expect(meanOver(blocks, 0, 0, 9000)).toBeNull();
  });
});
