import type { QuantityKey } from './types.ts';

/** Which channels each quantity is made of, in the words of the channel table. */
const CHANNELS_OF = {
  suctionSaturation: ['suctionPressure'],
  liquidSaturation: ['liquidPressure'],
  superheat: ['suctionPressure', 'suctionLineTemp'],
  subcooling: ['liquidPressure', 'liquidLineTemp'],
  airDrop: ['returnAirTemp', 'supplyAirTemp'],
} as const satisfies Record<QuantityKey, readonly string[]>;

/** The channels that would mend absent quantities, each named once. */
export function channelsFor(quantities: readonly QuantityKey[]): string[] {
  return [...new Set(quantities.flatMap((key) => CHANNELS_OF[key]))];
}
