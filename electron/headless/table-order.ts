import { CHANNEL_KEYS, channelRow, type ChannelKey } from '../../core/stream/channels.ts';
import type { Sample } from '../../core/stream/sample.ts';

/** Pressures that instruments of the trade show above the atmosphere: all but the barometer. */
export const GAUGE_CHANNELS: readonly ChannelKey[] = CHANNEL_KEYS.filter(
  (channel) => channelRow(channel).quantity === 'pressure' && channel !== 'barometricPressure',
);

/** Samples by time, those of one time in their order of arrival: what a table can hold. */
export function inOrderOfTime(samples: readonly Sample[]): Sample[] {
  return [...samples].sort((a, b) => a.t - b.t);
}
