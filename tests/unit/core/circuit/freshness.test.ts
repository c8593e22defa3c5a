import { describe, expect, it } from 'vitest';
import { createFreshness } from '../../../../core/circuit/freshness.ts';
import { channelIndex } from '../../../../core/stream/channel-index.ts';
import { CHANNEL_KEYS, type ChannelKey } from '../../../../core/stream/channels.ts';

/** A stream of frames of one second in which each channel speaks at its own period (s). */
function freshAt(periods: Partial<Record<ChannelKey, number>>, seconds: number) {
  const freshness = createFreshness(['superheat', 'airDrop']);
  const channels = new Float64Array(CHANNEL_KEYS.length).fill(NaN);
  const spoke = new Uint8Array(CHANNEL_KEYS.length);
  const fresh: { superheat: number[]; airDrop: number[] } = { superheat: [], airDrop: [] };
  for (let t = 0; t < seconds; t += 1) {
    for (const [key, period] of Object.entries(periods)) {
      const i = channelIndex(key as ChannelKey);
      spoke[i] = t % period === 0 ? 1 : 0;
      channels[i] = 280;
    }
    const [superheat, airDrop] = freshness({
      dt: 1,
      channels,
      spoke,
      period: (key) => periods[key] ?? null,
    });
    if (superheat === true) fresh.superheat.push(t);
    if (airDrop === true) fresh.airDrop.push(t);
  }
  return fresh;
}

const every = (step: number, seconds: number): number[] =>
  Array.from({ length: Math.ceil(seconds / step) }, (_, i) => i * step);

describe('createFreshness', () => {
  it('takes a quantity for new at the pace of its slowest channel', () => {
    const fresh = freshAt(
      { suctionPressure: 1, suctionLineTemp: 3, returnAirTemp: 20, supplyAirTemp: 1 },
      60,
    );
    expect(fresh.superheat).toEqual(every(3, 60));
    expect(fresh.airDrop).toEqual(every(20, 60));
  });

  it('waits for each of two slow channels to have spoken since', () => {
    const fresh = freshAt({ returnAirTemp: 6, supplyAirTemp: 10 }, 31);
    // Return air speaks at 0, 6, 12, 18, 24, 30 and supply air at 0, 10, 20, 30.
    expect(fresh.airDrop).toEqual([0, 10, 20, 30]);
  });

  it('does not call a channel slow that misses a frame now and then', () => {
    expect(freshAt({ suctionPressure: 1, suctionLineTemp: 1.5 }, 12).superheat).toEqual(
      every(1, 12),
    );
  });

  it('takes a quantity without its channels for new: it is absent, not held', () => {
    const fresh = freshAt({ suctionPressure: 1, suctionLineTemp: 2 }, 6);
    expect(fresh.airDrop).toEqual(every(1, 6));
    expect(fresh.superheat).toEqual(every(2, 6));
  });
});
