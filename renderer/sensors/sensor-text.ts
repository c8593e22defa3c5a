import { pressureDifferenceText } from '../../core/diagnosis/format.ts';
import type { SensorHealth } from '../../core/radio/sensor-health.ts';
import type { SwapQuestion } from '../../core/radio/swap-check.ts';
import { channelRow } from '../../core/stream/channels.ts';
import type { Quantity } from '../../core/units/symbols.ts';
import type { SensorValueView } from '../../electron/bridge/views.ts';
import {
  differenceText,
  durationText,
  fixed,
  temperatureText,
  type UnitSystem,
} from '../app/format.ts';

/** The words of the sensors room's closed sets. */

export const HEALTH_WORD: Record<SensorHealth, string> = {
  radioUnavailable: 'No radio',
  failed: 'Left alone',
  notSeen: 'Not heard',
  connecting: 'Linking',
  lost: 'Lost',
  keyNeeded: 'Key needed',
  silent: 'Silent',
  garbage: 'Sends garbage',
  batteryLow: 'Battery low',
  weakSignal: 'Weak signal',
  good: 'Good',
};

export const REFERENCE_TEXT = { gauge: 'gauge', absolute: 'absolute' } as const;

/** The question alone; {@link swapLine} gives the numbers behind it. */
export const SWAP_TEXT: Record<SwapQuestion['code'], string> = {
  CLAMPS_LOOK_SWAPPED: 'Are the two pipe clamps exchanged?',
  HOSES_LOOK_SWAPPED: 'Are the two pressure sensors exchanged?',
  AIR_PROBES_LOOK_SWAPPED: 'Are the two air probes exchanged?',
};

/** A question about two sensors of one unit, with the numbers behind it, in two short sentences. */
export function swapLine(q: SwapQuestion, system: UnitSystem): string {
  const [first, second] = q.channels.map((channel) => channelRow(channel).label);
  const isPressure = channelRow(q.channels[0]).quantity === 'pressure';
  const excess = isPressure
    ? pressureDifferenceText(q.excess, system)
    : differenceText(q.excess, system);
  return `${SWAP_TEXT[q.code]} ${first} reads ${excess} above ${second} while it runs.`;
}

/** {@link swapLine} with the unit it is asked of and what to do. */
export function swapText(q: SwapQuestion & { readonly unit: string }, system: UnitSystem): string {
  return `Unit ${q.unit}: ${swapLine(q, system)} Look at the probes; nothing is changed by itself.`;
}

const PLAIN: Record<
  Exclude<Quantity, 'pressure' | 'vacuum' | 'temperature' | 'mass'>,
  (si: number) => string
> = {
  humidity: (v) => `${fixed(100 * v, 0)} %`,
  current: (v) => `${fixed(v, 2)} A`,
  voltage: (v) => `${fixed(v, 1)} V`,
};

/** A value as the sensor measures it, its zero taken off: a pressure is not turned into gauge. */
export function valueText(value: SensorValueView, system: UnitSystem): string {
  if (value.sent === null) return value.ago_s === null ? 'no value yet' : 'not known';
  const { quantity, sent } = value;
  switch (quantity) {
    case 'pressure':
    case 'vacuum':
      return pressureDifferenceText(sent - (value.zero?.offset_Pa ?? 0), system);
    case 'temperature':
      return temperatureText(sent, system);
    case 'mass':
      return system === 'us' ? `${fixed(sent / 0.45359237, 2)} lb` : `${fixed(sent, 3)} kg`;
    default:
      return PLAIN[quantity](sent);
  }
}

/** How long ago, in words. */
export function agoText(seconds: number | null): string {
  if (seconds === null) return 'never';
  return seconds < 2 ? 'now' : `${durationText(seconds)} ago`;
}

/** Signal strength in words with its number, for people who do not think in dBm. */
export function signalText(dBm: number | null): string {
  if (dBm === null) return 'unknown';
  const word = dBm >= -65 ? 'strong' : dBm >= -80 ? 'fair' : 'weak';
  return `${word} (${fixed(dBm, 0)} dBm)`;
}
