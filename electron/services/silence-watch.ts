import { createChannelClock, type ChannelClock } from '../../core/stream/channel-clock.ts';
import { channelRow, type ChannelKey } from '../../core/stream/channels.ts';
import type { Sample } from '../../core/stream/sample.ts';

interface Watched {
  readonly channel: ChannelKey;
  readonly clock: ChannelClock;
  /** When it was last heard, s of session time by the host's clock. */
  heardAt: number;
  silent: boolean;
}

/**
 * Notices that a live channel has stopped speaking although time goes on. The engine has no clock
 * but its stream, so an absence must become a sample: the gap that is made here is recorded like
 * any other, and a replay goes blind at the same place.
 */
export class SilenceWatch {
  readonly #channels = new Map<ChannelKey, Watched>();

  /** Notes what arrived at host time `now`, s of session time. */
  heard(samples: readonly Sample[], now: number): void {
    for (const sample of samples) {
      const watched = this.#watched(sample.channel);
      watched.heardAt = now;
      if (sample.value === null) {
        // A gap that its source tells of is known already.
        watched.clock.gap(sample.t, sample.why);
        watched.silent = true;
      } else {
        watched.clock.value(sample.t, sample.value);
        watched.silent = false;
      }
    }
  }

  /** The gaps to record now: one for each channel that has just become silent. */
  check(now: number): Sample[] {
    const gaps: Sample[] = [];
    for (const watched of this.#channels.values()) {
      if (watched.silent || now - watched.heardAt <= watched.clock.limit()) continue;
      watched.silent = true;
      gaps.push({ channel: watched.channel, t: now, value: null, why: 'silent' });
    }
    return gaps;
  }

  /** Every channel heard so far. */
  channels(): ChannelKey[] {
    return [...this.#channels.keys()];
  }

  #watched(channel: ChannelKey): Watched {
    let watched = this.#channels.get(channel);
    if (watched === undefined) {
      watched = {
        channel,
        clock: createChannelClock(channelRow(channel).period_s),
        heardAt: 0,
        silent: false,
      };
      this.#channels.set(channel, watched);
    }
    return watched;
  }
}
