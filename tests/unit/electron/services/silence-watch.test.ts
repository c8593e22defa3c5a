import { describe, expect, it } from 'vitest';
import type { Sample } from '../../../../core/stream/sample.ts';
import { SilenceWatch } from '../../../../electron/services/silence-watch.ts';

const at = (t: number, value = 300): Sample => ({ channel: 'suctionLineTemp', t, value });

/** A watch that has heard a channel every `period` seconds up to time `until`. */
function heardEvery(period: number, until: number): SilenceWatch {
  const watch = new SilenceWatch();
  for (let t = 0; t <= until; t += period) watch.heard([at(t)], t);
  return watch;
}

describe('SilenceWatch', () => {
  it('makes one gap when a channel has said nothing for three of its periods', () => {
    const watch = heardEvery(4, 40);
    expect(watch.check(52, 52)).toEqual([]);
    expect(watch.check(52.5, 52.5)).toEqual([
      { channel: 'suctionLineTemp', t: 52.5, value: null, why: 'silent' },
    ]);
    expect(watch.check(53, 53)).toEqual([]);
  });

  it('does not take a hiccup of a fast channel for silence', () => {
    const watch = heardEvery(0.25, 10);
    expect(watch.check(14.9, 14.9)).toEqual([]);
    expect(watch.check(15.1, 15.1)).toHaveLength(1);
  });

  it('begins anew when the channel speaks again', () => {
    const watch = heardEvery(1, 10);
    expect(watch.check(20, 20)).toHaveLength(1);
    watch.heard([at(21)], 21);
    expect(watch.check(22, 22)).toEqual([]);
    expect(watch.check(40, 40)).toMatchObject([{ why: 'silent' }]);
  });

  it('repeats the reason its source has told, no other, and only while nothing speaks', () => {
    const watch = heardEvery(1, 10);
    const lost: Sample = { channel: 'suctionLineTemp', t: 11, value: null, why: 'lost' };
    watch.heard([lost], 11);
    watch.heard([{ channel: 'returnAirTemp', t: 15, value: 295 }], 15);
    expect(watch.check(19, 19)).toEqual([]);
    watch.heard([{ channel: 'returnAirTemp', t: 20, value: null, why: 'lost' }], 20);
    expect(watch.check(21.5, 21.5)).toEqual([]);
    expect(watch.check(22, 22)).toEqual([{ ...lost, t: 22 }]);
    expect(watch.check(23, 23)).toEqual([]);
    expect(watch.check(24, 24)).toHaveLength(1);
  });

  it('blames no channel for a pause', () => {
    const watch = heardEvery(1, 10);
    watch.excuse(100);
    expect(watch.check(104, 104)).toEqual([]);
    expect(watch.check(106, 106)).toHaveLength(1);
  });

  it('goes by the time of arrival, not by a sensor clock that runs ahead', () => {
    const watch = new SilenceWatch();
    for (let t = 0; t <= 10; t += 1) watch.heard([at(t + 1000)], t);
    expect(watch.check(16, 16)).toHaveLength(1);
  });
});
