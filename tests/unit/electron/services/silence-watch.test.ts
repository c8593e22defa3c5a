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
    expect(watch.check(52)).toEqual([]);
    expect(watch.check(52.5)).toEqual([
      { channel: 'suctionLineTemp', t: 52.5, value: null, why: 'silent' },
    ]);
    expect(watch.check(60)).toEqual([]);
  });

  it('does not take a hiccup of a fast channel for silence', () => {
    const watch = heardEvery(0.25, 10);
    expect(watch.check(14.9)).toEqual([]);
    expect(watch.check(15.1)).toHaveLength(1);
  });

  it('begins anew when the channel speaks again', () => {
    const watch = heardEvery(1, 10);
    expect(watch.check(20)).toHaveLength(1);
    watch.heard([at(21)], 21);
    expect(watch.check(22)).toEqual([]);
    expect(watch.check(40)).toHaveLength(1);
  });

  it('says nothing of an absence its source has told already', () => {
    const watch = heardEvery(1, 10);
    watch.heard([{ channel: 'suctionLineTemp', t: 11, value: null, why: 'lost' }], 11);
    expect(watch.check(60)).toEqual([]);
  });

  it('goes by the time of arrival, not by a sensor clock that runs ahead', () => {
    const watch = new SilenceWatch();
    for (let t = 0; t <= 10; t += 1) watch.heard([at(t + 1000)], t);
    expect(watch.check(16)).toHaveLength(1);
  });
});
