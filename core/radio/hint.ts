import type { ChannelKey } from '../stream/channels.ts';
import type { Quantity } from '../units/symbols.ts';

/** Words of the trade, in the order in which they are tried. */
const HINTS: readonly {
  readonly quantity: Quantity;
  readonly words: RegExp;
  readonly channel: ChannelKey;
}[] = [
  { quantity: 'pressure', words: /vacuum|micron/i, channel: 'vacuum' },
  { quantity: 'pressure', words: /barometric|barometer/i, channel: 'barometricPressure' },
  { quantity: 'pressure', words: /suction|low side|vapou?r/i, channel: 'suctionPressure' },
  { quantity: 'pressure', words: /discharge/i, channel: 'dischargePressure' },
  { quantity: 'pressure', words: /liquid|high side/i, channel: 'liquidPressure' },
  { quantity: 'temperature', words: /suction|low side|vapou?r/i, channel: 'suctionLineTemp' },
  { quantity: 'temperature', words: /discharge/i, channel: 'dischargeLineTemp' },
  { quantity: 'temperature', words: /liquid|high side/i, channel: 'liquidLineTemp' },
  { quantity: 'temperature', words: /supply/i, channel: 'supplyAirTemp' },
  { quantity: 'temperature', words: /return|indoor/i, channel: 'returnAirTemp' },
  { quantity: 'temperature', words: /outdoor|outside/i, channel: 'outdoorAirTemp' },
  { quantity: 'humidity', words: /return|indoor/i, channel: 'returnAirHumidity' },
  { quantity: 'current', words: /compressor/i, channel: 'compressorCurrent' },
  { quantity: 'voltage', words: /line|mains/i, channel: 'lineVoltage' },
  { quantity: 'mass', words: /./, channel: 'scaleWeight' },
];

/**
 * The channel that a sensor's own words suggest; null where they suggest none. Only a suggestion:
 * no standard says where on a circuit a sensor sits, so a person assigns it.
 *
 * @param text user description, application and presentation format, joined
 */
export function channelHint(quantity: Quantity, text: string): ChannelKey | null {
  return HINTS.find((h) => h.quantity === quantity && h.words.test(text))?.channel ?? null;
}
