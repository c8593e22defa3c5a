import { channelRow, type ChannelKey } from '../stream/channels.ts';
import type { Quantity } from '../units/symbols.ts';
import type { Measurement } from './decoded.ts';

/** What a pressure counts from. Bluetooth's Pressure does not say, so the user does. */
export type PressureReference = 'gauge' | 'absolute';

/** The settings of one value of a sensor that turn what it sent into a channel's SI value. */
export interface ValueSettings {
  readonly reference: PressureReference | null;
  /** Subtracted from every value, in the channel's SI unit; from the zero check. */
  readonly zeroOffset: number;
}

/** Whether a quantity a sensor sends may be assigned to a channel. */
export function quantityFits(quantity: Quantity, channel: ChannelKey): boolean {
  const wanted = channelRow(channel).quantity;
  return wanted === quantity || (wanted === 'vacuum' && quantity === 'pressure');
}

/**
 * A channel's SI value from what the sensor sent: a gauge pressure is raised by the local
 * atmosphere, and the zero offset is taken off. Null stays null.
 *
 * @param atmosphere_Pa local atmosphere, used for gauge pressures only
 */
export function channelValue(
  measurement: Measurement,
  settings: ValueSettings,
  atmosphere_Pa: number,
): number | null {
  if (measurement.value === null) return null;
  const isPressure = measurement.quantity === 'pressure' || measurement.quantity === 'vacuum';
  const above = isPressure && settings.reference === 'gauge' ? atmosphere_Pa : 0;
  return measurement.value + above - settings.zeroOffset;
}
