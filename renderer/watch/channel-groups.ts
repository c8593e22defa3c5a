import { CHANNEL_KEYS, channelRow, type ChannelKey } from '../../core/stream/channels.ts';
import type { EngineState } from '../../core/engine-types.ts';

/** The channels of a unit by the chart they belong to, in the order of the channel table. */
export interface ChannelGroups {
  readonly pressures: readonly ChannelKey[];
  readonly temperatures: readonly ChannelKey[];
  readonly others: readonly ChannelKey[];
}

/** Keys of the channels a unit has heard of, as one text, so that it compares by value. */
export function channelList(state: EngineState): string {
  return CHANNEL_KEYS.filter((key) => state.channels[key] !== undefined).join(' ');
}

/** Groups the channels of a `channelList`. */
export function groupChannels(list: string): ChannelGroups {
  const present = new Set(list.split(' '));
  const keys = CHANNEL_KEYS.filter((key) => present.has(key));
  const of = (...quantities: string[]) =>
    keys.filter((key) => quantities.includes(channelRow(key).quantity));
  const pressures = of('pressure').filter((key) => key !== 'barometricPressure');
  const temperatures = of('temperature');
  const drawn = new Set([...pressures, ...temperatures]);
  return { pressures, temperatures, others: keys.filter((key) => !drawn.has(key)) };
}
