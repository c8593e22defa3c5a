import { createChannelClock, type ChannelClock } from '../../core/stream/channel-clock.ts';
import { channelRow, type ChannelKey } from '../../core/stream/channels.ts';
import type { GapReason, Sample } from '../../core/stream/sample.ts';

/** While nothing speaks at all, a gap this often lets the engine know that time passes, s. */
const REMINDER_S = 2;

interface Watched {
  readonly channel: ChannelKey;
  readonly clock: ChannelClock;
  /** When it was last heard, s of session time by the host's clock. */
  heardAt: number;
  /** Why it has no value now; null while it speaks. */
  silent: GapReason | null;
}

/**
 * Notices that a live channel has stopped speaking although time goes on. The engine has no clock
 * but its stream, so an absence must become a sample: the gap that is made here is recorded like
 * any other, and a replay goes blind at the same place.
 */
export class SilenceWatch {
  readonly #channels = new Map<ChannelKey, Watched>();
  /** When the stream last moved, s of session time. */
  #movedAt = 0;

  /** Notes what arrived at host time `now`, s of session time. */
  heard(samples: readonly Sample[], now: number): void {
    if (samples.length > 0) this.#movedAt = now;
    for (const sample of samples) {
      const watched = this.#watched(sample.channel);
      watched.heardAt = now;
      if (sample.value === null) {
        // A gap that its source tells of is known already.
        watched.clock.gap(sample.t, sample.why);
        watched.silent = sample.why;
      } else {
        watched.clock.value(sample.t, sample.value);
        watched.silent = null;
      }
    }
  }

  /**
   * The gaps to record now: one for each channel that has just become silent; while all are silent,
   * a reminder every few seconds, without which the stream would stand still and with it the state.
   *
   * @param t time of the gaps in the stream, s
   */
  check(now: number, t: number): Sample[] {
    const gaps: Sample[] = [];
    for (const watched of this.#channels.values()) {
      if (watched.silent !== null || now - watched.heardAt <= watched.clock.limit()) continue;
      watched.silent = 'silent';
      gaps.push({ channel: watched.channel, t, value: null, why: 'silent' });
    }
    if (gaps.length === 0 && now - this.#movedAt >= REMINDER_S) gaps.push(...this.#reminder(t));
    if (gaps.length > 0) this.#movedAt = now;
    return gaps;
  }

  /** Time passed in which nothing was to be heard (a pause): no channel is blamed for it. */
  excuse(now: number): void {
    for (const watched of this.#channels.values()) watched.heardAt = now;
  }

  /** Every channel heard so far. */
  channels(): ChannelKey[] {
    return [...this.#channels.keys()];
  }

  /** A gap once more, where no channel speaks. */
  #reminder(t: number): Sample[] {
    const all = [...this.#channels.values()];
    const [first] = all;
    if (first === undefined || all.some((watched) => watched.silent === null)) return [];
    return [{ channel: first.channel, t, value: null, why: first.silent ?? 'silent' }];
  }

  #watched(channel: ChannelKey): Watched {
    let watched = this.#channels.get(channel);
    if (watched === undefined) {
      watched = {
        channel,
        clock: createChannelClock(channelRow(channel).period_s),
        heardAt: 0,
        silent: null,
      };
      this.#channels.set(channel, watched);
    }
    return watched;
  }
}
