import type { ChannelKey } from '../stream/channels.ts';
import { hasSaturation } from '../refrigerant/range.ts';
import type { Refrigerant } from '../refrigerant/types.ts';
import type { FigureKey, Mode } from './types.ts';

/** Reads a channel's value in SI; NaN where it has none. */
export type ChannelReader = (key: ChannelKey) => number;

/** One figure of the circuit: what it is, from which channels, in one line for the screen. */
export interface FigureRow {
  readonly label: string;
  readonly explain: string;
  /** 'temperature' is a level in K, 'difference' a difference in K, 'ratio' a pure number. */
  readonly kind: 'temperature' | 'difference' | 'ratio';
  /** Channels it is computed from; a list inside is a choice, the first present one is used. */
  readonly inputs: readonly (ChannelKey | readonly ChannelKey[])[];
  /** The only mode in which it means something; absent where it does in both. */
  readonly mode?: Mode;
  /** NaN where an input is absent or outside the refrigerant's range. */
  readonly compute: (read: ChannelReader, refrigerant: Refrigerant) => number;
}

/** The high-side pressure: at the liquid valve where there is one, else at the discharge. */
export const HIGH_SIDE = ['liquidPressure', 'dischargePressure'] as const satisfies ChannelKey[];

/** The first of the channels that has a value, NaN if none has. */
export function readFirst(read: ChannelReader, keys: readonly ChannelKey[]): number {
  for (const key of keys) {
    const value = read(key);
    if (!Number.isNaN(value)) return value;
  }
  return NaN;
}

const dew = (p: number, r: Refrigerant): number => (hasSaturation(r, p) ? r.curves.tDew(p) : NaN);
const bubble = (p: number, r: Refrigerant): number =>
  hasSaturation(r, p) ? r.curves.tBubble(p) : NaN;

/**
 * The figures, all from channels by one function each, so that their uncertainty follows from the
 * sensors' by the same rule. Dew point for superheat, bubble point for subcooling: with a glide the
 * two differ by kelvins, and superheat starts where the last drop has gone.
 */
export const FIGURES = {
  suctionSaturation: {
    label: 'Evaporating (dew)',
    explain: 'Dew point at the suction pressure: where the refrigerant finishes boiling.',
    kind: 'temperature',
    inputs: ['suctionPressure'],
    compute: (read, r) => dew(read('suctionPressure'), r),
  },
  liquidSaturation: {
    label: 'Condensing (bubble)',
    explain: 'Bubble point at the high-side pressure: where the refrigerant finishes condensing.',
    kind: 'temperature',
    inputs: [HIGH_SIDE],
    compute: (read, r) => bubble(readFirst(read, HIGH_SIDE), r),
  },
  superheat: {
    label: 'Superheat',
    explain: 'Suction line temperature above the dew point at the suction pressure.',
    kind: 'difference',
    inputs: ['suctionLineTemp', 'suctionPressure'],
    compute: (read, r) => read('suctionLineTemp') - dew(read('suctionPressure'), r),
  },
  subcooling: {
    label: 'Subcooling',
    explain: 'Liquid line temperature below the bubble point at the high-side pressure.',
    kind: 'difference',
    inputs: ['liquidLineTemp', HIGH_SIDE],
    compute: (read, r) => bubble(readFirst(read, HIGH_SIDE), r) - read('liquidLineTemp'),
  },
  airDrop: {
    label: 'Air temperature drop',
    explain: 'Return air minus supply air.',
    kind: 'difference',
    inputs: ['returnAirTemp', 'supplyAirTemp'],
    compute: (read) => read('returnAirTemp') - read('supplyAirTemp'),
  },
  condensingOverOutdoor: {
    label: 'Condensing over outdoor air',
    explain: 'How far condensing stands above the outdoor air: it grows with a fouled coil.',
    kind: 'difference',
    mode: 'cooling',
    inputs: [HIGH_SIDE, 'outdoorAirTemp'],
    compute: (read, r) => bubble(readFirst(read, HIGH_SIDE), r) - read('outdoorAirTemp'),
  },
  returnOverEvaporating: {
    label: 'Return air over evaporating',
    explain: 'How far evaporating stands below the return air: it grows as air or charge is short.',
    kind: 'difference',
    mode: 'cooling',
    inputs: ['returnAirTemp', 'suctionPressure'],
    compute: (read, r) => read('returnAirTemp') - dew(read('suctionPressure'), r),
  },
  pressureRatio: {
    label: 'Pressure ratio',
    explain: 'Absolute high-side pressure over absolute suction pressure.',
    kind: 'ratio',
    inputs: [['dischargePressure', 'liquidPressure'], 'suctionPressure'],
    compute: (read) =>
      readFirst(read, ['dischargePressure', 'liquidPressure']) / read('suctionPressure'),
  },
  dischargeSuperheat: {
    label: 'Discharge superheat',
    explain: 'Discharge line temperature above the dew point at the high-side pressure.',
    kind: 'difference',
    inputs: ['dischargeLineTemp', ['dischargePressure', 'liquidPressure']],
    compute: (read, r) =>
      read('dischargeLineTemp') - dew(readFirst(read, ['dischargePressure', 'liquidPressure']), r),
  },
  drierDrop: {
    label: 'Drop across the drier',
    explain: 'Drier inlet minus outlet temperature: a clean one shows almost none.',
    kind: 'difference',
    inputs: ['drierInletTemp', 'drierOutletTemp'],
    compute: (read) => read('drierInletTemp') - read('drierOutletTemp'),
  },
  condensingOverReturn: {
    label: 'Condensing over return air',
    explain: 'How far condensing stands above the return air: it grows as indoor air is short.',
    kind: 'difference',
    mode: 'heating',
    inputs: [HIGH_SIDE, 'returnAirTemp'],
    compute: (read, r) => bubble(readFirst(read, HIGH_SIDE), r) - read('returnAirTemp'),
  },
  outdoorOverEvaporating: {
    label: 'Outdoor air over evaporating',
    explain:
      'How far evaporating stands below the outdoor air: it grows with frost, a fouled coil or little charge.',
    kind: 'difference',
    mode: 'heating',
    inputs: ['outdoorAirTemp', 'suctionPressure'],
    compute: (read, r) => read('outdoorAirTemp') - dew(read('suctionPressure'), r),
  },
} as const satisfies Record<FigureKey, FigureRow>;

/** How a figure is told to a person: its words, and 1 or -1 for the sign its value is told with. */
export interface FigureTold {
  readonly label: string;
  readonly explain: string;
  readonly sign: 1 | -1;
}

/** In heating the air gets warmer: its drop, which the record keeps, is told as a rise. */
const AIR_RISE: FigureTold = {
  label: 'Air temperature rise',
  explain: 'Supply air minus return air.',
  sign: -1,
};

/** Nothing evaporates or condenses while the unit is off: its pressures have their saturation all the same. */
const STANDING: Partial<Record<FigureKey, FigureTold>> = {
  suctionSaturation: {
    label: 'Saturation, suction side',
    explain:
      'Dew point at the suction pressure. Liquid in the circuit keeps it between the temperatures around.',
    sign: 1,
  },
  liquidSaturation: {
    label: 'Saturation, high side',
    explain:
      'Bubble point at the high-side pressure. Liquid in the circuit keeps it between the temperatures around.',
    sign: 1,
  },
};

/**
 * How a figure of a unit in this mode is told.
 * @param off whether the unit stands
 */
export function figureTold(key: FigureKey, mode: Mode, off = false): FigureTold {
  const standing = off ? STANDING[key] : undefined;
  if (standing !== undefined) return standing;
  if (key === 'airDrop' && mode === 'heating') return AIR_RISE;
  const { label, explain } = figureRow(key);
  return { label, explain, sign: 1 };
}

/** Every figure key, in the order of the table. */
export const FIGURE_KEYS = Object.keys(FIGURES) as readonly FigureKey[];

/** The row of a figure, typed as the general row. */
export function figureRow(key: FigureKey): FigureRow {
  return FIGURES[key];
}

/**
 * The channels a figure is computed from now: of each choice the first that has a value.
 * Null where one is missing.
 */
export function presentInputs(row: FigureRow, read: ChannelReader): ChannelKey[] | null {
  const chosen: ChannelKey[] = [];
  for (const input of row.inputs) {
    const options: readonly ChannelKey[] = typeof input === 'string' ? [input] : input;
    const present = options.find((key) => !Number.isNaN(read(key)));
    if (present === undefined) return null;
    chosen.push(present);
  }
  return chosen;
}
