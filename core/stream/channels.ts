import type { Quantity } from '../units/symbols.ts';

/** One row of the channel table: one quantity at one place on one unit. */
export interface ChannelRow {
  readonly label: string;
  /** For axis legends and narrow columns. */
  readonly short: string;
  readonly quantity: Quantity;
  /** Plausible range in SI; a value outside it is kept in the record but is a gap to the engine. */
  readonly min: number;
  readonly max: number;
  /** Decimals on the screen, in the customary unit of the quantity (°F, psig, A...). */
  readonly decimals: number;
  /** Nominal time between samples in seconds; stale after three of them. */
  readonly period_s: number;
  /** Where on the circuit: groups the screens and colours the lines. */
  readonly side: 'low' | 'high' | 'air' | 'electric' | 'test';
}

const AIR = {
  quantity: 'temperature',
  min: 223.15,
  max: 343.15,
  decimals: 1,
  period_s: 5,
  side: 'air',
} as const;
const PIPE = {
  quantity: 'temperature',
  min: 213.15,
  max: 423.15,
  decimals: 1,
  period_s: 5,
} as const;
const GAUGE = { quantity: 'pressure', min: 0, max: 6.5e6, decimals: 1, period_s: 5 } as const;

/**
 * The channel table. Chart, table, export, validation and assignment all read it; a channel is
 * added by adding a row. `period_s` is the slowest rate the program supports (0.2 Hz); a faster
 * stream is judged stale by its own observed period.
 */
export const CHANNELS = {
  suctionPressure: { ...GAUGE, label: 'Suction pressure', short: 'Suction', side: 'low' },
  liquidPressure: { ...GAUGE, label: 'Liquid pressure', short: 'Liquid', side: 'high' },
  dischargePressure: { ...GAUGE, label: 'Discharge pressure', short: 'Discharge', side: 'high' },
  suctionLineTemp: { ...PIPE, label: 'Suction line', short: 'Suction line', side: 'low' },
  liquidLineTemp: { ...PIPE, label: 'Liquid line', short: 'Liquid line', side: 'high' },
  dischargeLineTemp: { ...PIPE, label: 'Discharge line', short: 'Disch. line', side: 'high' },
  outdoorAirTemp: { ...AIR, label: 'Outdoor air', short: 'Outdoor air' },
  returnAirTemp: { ...AIR, label: 'Return air', short: 'Return air' },
  returnAirWetBulb: { ...AIR, label: 'Return air wet bulb', short: 'Return WB' },
  returnAirHumidity: {
    label: 'Return air humidity',
    short: 'Return RH',
    quantity: 'humidity',
    min: 0,
    max: 1,
    decimals: 0,
    period_s: 5,
    side: 'air',
  },
  supplyAirTemp: { ...AIR, label: 'Supply air', short: 'Supply air' },
  supplyAirWetBulb: { ...AIR, label: 'Supply air wet bulb', short: 'Supply WB' },
  drierInletTemp: { ...PIPE, label: 'Drier inlet', short: 'Drier in', side: 'high' },
  drierOutletTemp: { ...PIPE, label: 'Drier outlet', short: 'Drier out', side: 'high' },
  compressorCurrent: {
    label: 'Compressor current',
    short: 'Comp. amps',
    quantity: 'current',
    min: -1, // the zero of a clamp is a little off
    max: 200,
    decimals: 1,
    period_s: 5,
    side: 'electric',
  },
  lineVoltage: {
    label: 'Line voltage',
    short: 'Line volts',
    quantity: 'voltage',
    min: 0,
    max: 1000,
    decimals: 0,
    period_s: 5,
    side: 'electric',
  },
  vacuum: {
    label: 'Vacuum',
    short: 'Vacuum',
    quantity: 'vacuum',
    min: 0,
    max: 1.1e5,
    decimals: 0,
    period_s: 5,
    side: 'test',
  },
  testPressure: { ...GAUGE, label: 'Test pressure', short: 'Test', side: 'test' },
  scaleWeight: {
    label: 'Scale',
    short: 'Scale',
    quantity: 'mass',
    min: -50,
    max: 200,
    decimals: 2,
    period_s: 5,
    side: 'test',
  },
  barometricPressure: {
    label: 'Barometer',
    short: 'Barometer',
    quantity: 'pressure',
    min: 4e4,
    max: 1.1e5,
    decimals: 2,
    period_s: 60,
    side: 'test',
  },
} as const satisfies Record<string, ChannelRow>;

/** The key of a channel: the name used in types, files, screens and columns. */
export type ChannelKey = keyof typeof CHANNELS;

/** Every channel key, in the order of the table. */
export const CHANNEL_KEYS = Object.keys(CHANNELS) as readonly ChannelKey[];

/** Tells whether a text names a channel. */
export function isChannelKey(text: string): text is ChannelKey {
  return Object.hasOwn(CHANNELS, text);
}

/** The row of a channel, typed as the general row. */
export function channelRow(key: ChannelKey): ChannelRow {
  return CHANNELS[key];
}
