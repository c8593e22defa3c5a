import { describe, expect, it } from 'vitest';
import { createSpanAverage } from '../../../../core/stream/span-average.ts';

describe('createSpanAverage', () => {
  it('leaves out the last block and what follows until it is released', () => {
    const span = createSpanAverage(0, 1);
    for (let t = 1; t <= 100; t += 1) span.push(t, Float64Array.of(t <= 60 ? 1 : 5));
    expect(span.average(0)?.mean).toBe(1);
    expect(span.to()).toBeLessThanOrEqual(60);
    span.release();
    expect(span.average(0)?.mean).toBeCloseTo((60 * 1 + 40 * 5) / 100, 12);
    expect(span.to()).toBe(100);
  });

  it('has nothing to say of a span shorter than a block until released', () => {
    const span = createSpanAverage(0, 1);
    for (let t = 1; t <= 20; t += 1) span.push(t, Float64Array.of(2));
    expect(span.average(0)).toBeNull();
    span.release();
    expect(span.average(0)).toMatchObject({ mean: 2, n: 20, blocks: 1 });
  });

  it('has the scatter of its block means as uncertainty', () => {
    const span = createSpanAverage(0, 1);
    for (let t = 1; t <= 120; t += 1) span.push(t, Float64Array.of(Math.ceil(t / 30)));
    span.release();
    // Block means 1, 2, 3, 4.
    expect(span.average(0)?.mean).toBeCloseTo(2.5, 12);
    expect(span.average(0)?.uStat).toBeCloseTo(Math.sqrt(5 / 3 / 4), 12);
  });

  it('averages a swing over whole periods, whatever its span', () => {
    const span = createSpanAverage(0, 1, 50);
    for (let t = 1; t <= 237; t += 1) {
      span.push(t, Float64Array.of(3 + 2 * Math.sin((2 * Math.PI * t) / 50)));
    }
    span.release();
    expect(span.to()).toBe(200);
    expect(span.average(0)?.mean).toBeCloseTo(3, 9);
  });
});
