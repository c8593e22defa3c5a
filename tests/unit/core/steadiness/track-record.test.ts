import { describe, expect, it } from 'vitest';
import { TrackRecord } from '../../../../core/steadiness/track-record.ts';

/** A record of forecasts that were all off by so much, K, of a claimed variance. */
function recordOf(error: number, variance: number): TrackRecord {
  const record = new TrackRecord(1);
  for (let t = 0; t <= 1200; t += 30) {
    record.check(t, () => error);
    if (t < 900) record.note(t, () => ({ mean: 0, variance }));
  }
  return record;
}

describe('track record', () => {
  it('leaves a claim alone where the forecasts came out as they claimed', () => {
    expect(recordOf(0.1, 0.01).widened(0, 0.04)).toBeCloseTo(0.04, 3);
  });

  it('widens a claim like the earlier ones by as much as these were off', () => {
    expect(recordOf(0.3, 0.01).widened(0, 0.01)).toBeCloseTo(0.09, 2);
  });

  it('adds to a broad claim no more than the narrow ones were off', () => {
    expect(recordOf(0.3, 0.01).widened(0, 1)).toBeCloseTo(1.08, 2);
  });

  it('doubts a little before any forecast could be checked, and again when cleared', () => {
    const record = recordOf(0.3, 0.01);
    record.clear();
    expect(record.widened(0, 1)).toBeCloseTo(new TrackRecord(1).widened(0, 1), 12);
    expect(record.widened(0, 1)).toBeGreaterThan(1.1);
  });
});
