import type { Quantity } from '../units/symbols.ts';

/**
 * What a decoder yields. A failure says that the bytes are not what the format defines; a value of
 * null says that the sensor itself reported "not known". Decoders never throw.
 */
export type DecodeFailure =
  | { readonly code: 'WRONG_LENGTH'; readonly need: number; readonly have: number }
  | { readonly code: 'TOO_SHORT'; readonly need: number; readonly have: number }
  | {
      readonly code: 'OUT_OF_RANGE';
      readonly value: number;
      readonly min: number;
      readonly max: number;
    }
  | { readonly code: 'NOT_UTF8' }
  | { readonly code: 'BAD_DATE' };

/**
 * A measured value as the sensor sent it, in SI, before the sensor's own settings are applied.
 * A pressure is in Pa and says nothing yet about gauge or absolute.
 */
export type Measurement =
  | { readonly quantity: Quantity; readonly value: number }
  | { readonly quantity: Quantity; readonly value: null };

/**
 * The widest range in which a value of a quantity can mean anything (SI). Far wider than a channel's
 * plausible range: it only catches garbage, such as a temperature below absolute zero or a float of
 * 1e120. The choice of the upper ends is ours.
 */
export const PHYSICAL_RANGE: Readonly<Record<Quantity, readonly [min: number, max: number]>> = {
  // A gauge pressure may be as low as minus one atmosphere; 0x2A6D ends at 429 496 729.5 Pa.
  pressure: [-1.2e5, 5e8],
  vacuum: [0, 5e8],
  temperature: [0, 5000],
  humidity: [0, 1],
  current: [-1e5, 1e5],
  voltage: [-1e5, 1e5],
  mass: [-1e4, 1e4],
};

/** Whether a number is finite and within the range in which the quantity can mean anything. */
export function isPhysical(quantity: Quantity, value: number): boolean {
  const [min, max] = PHYSICAL_RANGE[quantity];
  return value >= min && value <= max;
}
