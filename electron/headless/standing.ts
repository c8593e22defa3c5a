import { createStandingWatch } from '../../core/checks/standing-watch.ts';
import { standingOfContent } from '../../core/checks/standing-of-content.ts';
import { channelIndex } from '../../core/stream/channel-index.ts';
import type { ChannelKey } from '../../core/stream/channels.ts';
import { standingRefusalText, standingText } from '../../core/diagnosis/standing-text.ts';
import type { FrameObserver } from '../../core/engine.ts';
import type { EngineConfig, SnapshotContent, StateSpan } from '../../core/engine-types.ts';

/** Follows the pressures of a session as the engine makes its frames. */
export interface StandingFollower {
  readonly observe: FrameObserver;
  /** The standing check at the end of the session, as JSON; null where it did not end at rest. */
  result(
    config: EngineConfig,
    spans: readonly StateSpan[],
    last: SnapshotContent | null,
  ): Record<string, unknown> | null;
}

/** One follower a session. */
export function followStanding(): StandingFollower {
  const low = createStandingWatch();
  const high = createStandingWatch();
  const push = (watch: typeof low, t: number, columns: Float64Array, keys: ChannelKey[]): void => {
    const value = keys
      .map((key) => columns[channelIndex(key)] ?? NaN)
      .find((v) => !Number.isNaN(v));
    if (value !== undefined) watch.push(t, value);
  };
  return {
    observe(t, columns) {
      push(low, t, columns, ['suctionPressure']);
      push(high, t, columns, ['liquidPressure', 'dischargePressure']);
    },
    result(config, spans, last) {
      const end = spans.at(-1);
      if (last === null || end?.state !== 'idle' || end.to === null) return null;
      const rates = { low: low.read()?.rate ?? null, high: high.read()?.rate ?? null };
      const stopSeen = spans.length > 1;
      const offFor = stopSeen ? end.to - end.from : null;
      const outcome = standingOfContent(last, config, rates, offFor);
      if (!outcome.ok) {
        return { verdict: null, text: standingRefusalText(outcome.error, 'us') };
      }
      const { verdict, probability, equalising } = outcome.value;
      return {
        verdict,
        probability,
        equalising: equalising.state,
        timeLeft_s: equalising.timeLeft,
        text: standingText(outcome.value, config.atmosphere.pressure, 'us').join(' '),
      };
    },
  };
}
