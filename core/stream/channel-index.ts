import { CHANNEL_KEYS, type ChannelKey } from './channels.ts';

const INDEX = new Map<ChannelKey, number>(CHANNEL_KEYS.map((key, i) => [key, i]));

/** Position of a channel in the channel table: the column it has in every array of channels. */
export function channelIndex(key: ChannelKey): number {
  const index = INDEX.get(key);
  if (index === undefined) throw new Error(`unknown channel ${key}`);
  return index;
}
