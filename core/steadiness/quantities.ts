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

/**
 * The saturation a quantity is counted from, and the sign with which it adds up with that to the
 * temperature of its line: superheat is line less saturation, subcooling saturation less line.
 */
export const COUNTED_FROM: Partial<
  Record<QuantityKey, { readonly saturation: QuantityKey; readonly sign: 1 | -1 }>
> = {
  superheat: { saturation: 'suctionSaturation', sign: 1 },
  subcooling: { saturation: 'liquidSaturation', sign: -1 },
};
