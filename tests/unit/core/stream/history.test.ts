import { describe, expect, it } from 'vitest';
import { averageOfBlocks, createHistory } from '../../../../core/stream/history.ts';

describe('createHistory', () => {
  it('averages only the frames of the window', () => {
    const history = createHistory(10, 1);
    for (let t = 1; t <= 8; t += 1) history.push(t, Float64Array.of(t));
    expect(history.average(0, 4, 8, 2)).toMatchObject({ mean: 6.5, n: 4, blocks: 2 });
  });

  it('forgets what is older than its capacity', () => {
    const history = createHistory(4, 1);
    for (let t = 1; t <= 8; t += 1) history.push(t, Float64Array.of(t));
    expect(history.oldest()).toBe(5);
    expect(history.newest()).toBe(8);
    expect(history.average(0, 0, 8, 2)).toMatchObject({ mean: 6.5, n: 4 });
  });

  it('passes over frames without a value', () => {
    const history = createHistory(4, 1);
    history.push(1, Float64Array.of(NaN));
    history.push(2, Float64Array.of(3));
    expect(history.average(0, 0, 2, 2)).toMatchObject({ mean: 3, n: 1, blocks: 1 });
    expect(history.average(0, 0, 1, 2)).toBeNull();
  });
});

describe('averageOfBlocks', () => {
  it('takes the uncertainty from the scatter of the block means', () => {
    // Block means 1, 2, 3: standard deviation 1, of their mean 1/sqrt(3).
    const average = averageOfBlocks([2, 4, 6], [2, 2, 2]);
    expect(average?.mean).toBe(2);
    expect(average?.uStat).toBeCloseTo(1 / Math.sqrt(3), 12);
  });

  it('knows no scatter from one block', () => {
    expect(averageOfBlocks([4], [2])?.uStat).toBeNaN();
  });
});
