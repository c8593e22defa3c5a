import { PASCAL_PER_PSI } from '../units/pressure.ts';
import { z } from 'zod';
import { differenceFromFahrenheit as degF } from '../units/temperature.ts';

/** One quantity a maker's paper may name, as a field to type it into. SI. */
export interface MakersRow {
  readonly label: string;
  /** 'pressure' is absolute inside and gauge at the edges; 'difference' is a difference of temperatures. */
  readonly quantity: 'pressure' | 'temperature' | 'difference' | 'current';
  readonly min: number;
  readonly max: number;
  /**
   * Half-width (k = 2) taken where the paper names no tolerance: our own estimate, common practice,
   * no source. Of a current it is a fraction of the value.
   */
  readonly u: number;
}

const PRESSURE = { quantity: 'pressure', min: 0, max: 6.5e6 } as const;
const LEVEL = { quantity: 'temperature', min: 213.15, max: 423.15 } as const;
const GAP = { quantity: 'difference', min: 0, max: 60 } as const;

/** The rows of a maker's chart: fields, validation and expectations all read this table. */
export const MAKERS_ROWS = {
  suctionPressure: {
    ...PRESSURE,
    label: 'Suction pressure',
    u: 5 * PASCAL_PER_PSI,
  },
  liquidPressure: {
    ...PRESSURE,
    label: 'Liquid (high-side) pressure',
    u: 12 * PASCAL_PER_PSI,
  },
  evaporating: {
    ...LEVEL,
    label: 'Evaporating temperature',
    u: degF(3),
  },
  condensing: { ...LEVEL, label: 'Condensing temperature', u: degF(3) },
  superheat: { ...GAP, label: 'Superheat', u: degF(5) },
  subcooling: { ...GAP, label: 'Subcooling', u: degF(3) },
  discharge: {
    ...LEVEL,
    label: 'Discharge line temperature',
    u: degF(10),
  },
  airChange: {
    ...GAP,
    label: 'Air temperature drop (in heating: rise)',
    u: degF(3),
  },
  current: {
    quantity: 'current',
    min: 0,
    max: 500,
    label: 'Compressor current',
    u: 0.1,
  },
} as const satisfies Record<string, MakersRow>;
export type MakersKey = keyof typeof MAKERS_ROWS;
export const MAKERS_KEYS = Object.keys(MAKERS_ROWS) as readonly MakersKey[];

/** The row of a key, typed as the general row. */
export function makersRow(key: MakersKey): MakersRow {
  return MAKERS_ROWS[key];
}

/** The half-width (k = 2) taken for a typed value whose paper names no tolerance. */
export function makersTolerance(key: MakersKey, value: number): number {
  const row = makersRow(key);
  return row.quantity === 'current' ? row.u * value : row.u;
}

const entry = (key: MakersKey) => {
  const { min, max, label } = makersRow(key);
  return z
    .strictObject({
      value: z
        .number()
        .min(min, `${label}: too low to be from a maker’s paper`)
        .max(max, `${label}: too high to be from a maker’s paper`),
      u: z.number().min(0, `${label}: a tolerance cannot be negative`).max(max),
    })
    .optional();
};
const air = z.number().min(223.15).max(343.15).nullable();

/**
 * The maker's expected readings as typed in from the papers of the unit. SI: pressures absolute (Pa),
 * temperatures K, differences K, current A; every `u` expanded, k = 2. `at` names the conditions of
 * the row of the chart (K, null where the chart does not ask them); null or absent, the values were
 * read off at the present conditions. Empty ({}) where nothing is known.
 */
export const MakersDataSchema = z
  .strictObject({
    suctionPressure: entry('suctionPressure'),
    liquidPressure: entry('liquidPressure'),
    evaporating: entry('evaporating'),
    condensing: entry('condensing'),
    superheat: entry('superheat'),
    subcooling: entry('subcooling'),
    discharge: entry('discharge'),
    airChange: entry('airChange'),
    current: entry('current'),
    at: z
      .strictObject({ outdoorAir: air, returnAir: air, returnWetBulb: air })
      .nullable()
      .optional(),
  })
  .superRefine((data, context) => {
    const clash = (low: MakersKey, high: MakersKey): void => {
      const a = data[low]?.value;
      const b = data[high]?.value;
      if (a === undefined || b === undefined || a < b) return;
      const message = `${makersRow(low).label} must be below ${makersRow(high).label.toLowerCase()}. Check which line of the chart they are from.`;
      context.addIssue({ code: 'custom', path: [low], message });
    };
    clash('suctionPressure', 'liquidPressure');
    clash('evaporating', 'condensing');
    const dry = data.at?.returnAir ?? null;
    const wet = data.at?.returnWetBulb ?? null;
    if (dry !== null && wet !== null && wet > dry) {
      const message = 'The wet bulb of the return air must not be above its dry bulb.';
      context.addIssue({ code: 'custom', path: ['at', 'returnWetBulb'], message });
    }
  });
export type MakersData = z.infer<typeof MakersDataSchema>;
