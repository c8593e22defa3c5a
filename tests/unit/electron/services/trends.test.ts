import { describe, expect, it } from 'vitest';
import { COLUMN_COUNT, figureColumn } from '../../../../core/circuit/content.ts';
import type { Sample } from '../../../../core/stream/sample.ts';
import { UnitTrends } from '../../../../electron/services/trends.ts';
import { LINE_CAPACITY, TrendSeries } from '../../../../electron/services/trend-series.ts';

const all = { from: -Infinity, to: Infinity };

function valuesOf(line: TrendSeries): number[] {
  const series = line.between(-Infinity, Infinity);
  return Array.from({ length: series.length }, (_, i) => series.value(i));
}

describe('TrendSeries', () => {
  it('keeps every point until it is full', () => {
    const line = new TrendSeries(4096);
    for (let i = 0; i < 4096; i += 1) line.push(i / 4, i % 7);
    expect(valuesOf(line)).toEqual(Array.from({ length: 4096 }, (_, i) => i % 7));
  });

  it('keeps a day at four a second in bounded memory, with every peak of one sample', () => {
    const line = new TrendSeries();
    const peaks = new Set<number>();
    for (let i = 0; i < 24 * 3600 * 4; i += 1) {
      const peak = i % 10_007 === 5000;
      if (peak) peaks.add(1000 + i);
      line.push(i / 4, peak ? 1000 + i : Math.sin(i / 1000));
    }
    expect(line.length).toBeLessThanOrEqual(LINE_CAPACITY);
    const kept = new Set(valuesOf(line));
    for (const peak of peaks) expect(kept).toContain(peak);
    const series = line.between(-Infinity, Infinity);
    expect(series.time(0)).toBeLessThan(10);
    expect(series.time(series.length - 1)).toBeGreaterThan(24 * 3600 - 10);
  });

  it('stays in order of time and bounded when breaks alternate with values', () => {
    const line = new TrendSeries(2048);
    for (let i = 0; i < 40_000; i += 1) line.push(i, i % 2 === 0 ? i : NaN);
    expect(line.length).toBeLessThanOrEqual(2048);
    const series = line.between(-Infinity, Infinity);
    for (let i = 1; i < series.length; i += 1) {
      expect(series.time(i)).toBeGreaterThanOrEqual(series.time(i - 1));
    }
  });

  it('puts a late point in its place and joins breaks that follow one another', () => {
    const line = new TrendSeries();
    for (const [t, v] of [
      [0, 1],
      [1, NaN],
      [2, NaN],
      [4, 4],
      [3, 3],
    ] as const)
      line.push(t, v);
    expect(valuesOf(line)).toEqual([1, NaN, 3, 4]);
  });

  it('gives the points of a span and one beyond each end, so that lines reach the edge', () => {
    const line = new TrendSeries();
    for (let t = 0; t < 100; t += 1) line.push(t, t);
    const series = line.between(10.5, 20.5);
    expect([series.time(0), series.time(series.length - 1)]).toEqual([10, 21]);
    expect(line.between(200, 300).length).toBe(1);
  });
});

describe('UnitTrends', () => {
  const samples: Sample[] = [
    { channel: 'suctionPressure', t: 0, value: 9e5 },
    { channel: 'suctionPressure', t: 1, value: null, why: 'lost' },
    { channel: 'suctionPressure', t: 2, value: 9.1e5 },
  ];

  it('draws channels with their gaps and figures by frame', () => {
    const trends = new UnitTrends();
    trends.push(samples);
    const frame = new Float64Array(COLUMN_COUNT).fill(NaN);
    trends.frame(1, frame);
    frame[figureColumn('superheat')] = 5;
    trends.frame(2, frame);
    expect(
      trends.query({ keys: ['suctionPressure', 'superheat', 'vacuum'], ...all, points: 16 }),
    ).toEqual([
      {
        key: 'suctionPressure',
        points: [
          [0, 9e5],
          [1, null],
          [2, 9.1e5],
        ],
      },
      { key: 'superheat', points: [[2, 5]] },
      { key: 'vacuum', points: [] },
    ]);
  });

  it('forgets all when time jumps', () => {
    const trends = new UnitTrends();
    trends.push(samples);
    trends.clear();
    expect(trends.query({ keys: ['suctionPressure'], ...all, points: 16 })[0]?.points).toEqual([]);
  });
});
