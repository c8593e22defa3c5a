import { z } from 'zod';
import type { EngineConfig } from '../engine-types.ts';
import { propagate } from '../circuit/uncertainty.ts';
import { refrigerant } from '../refrigerant/refrigerants.ts';
import { differenceFromFahrenheit as degF } from '../units/temperature.ts';
import type { Conditions } from './conditions.ts';
import type { FeatureKey, Uncertain } from './types.ts';

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
  /** Which feature it is an expectation of. */
  readonly feature: FeatureKey;
}

const PRESSURE = { quantity: 'pressure', min: 0, max: 6.5e6 } as const;
const LEVEL = { quantity: 'temperature', min: 213.15, max: 423.15 } as const;
const GAP = { quantity: 'difference', min: 0, max: 60 } as const;
const PSI = 6894.757;

/** The rows of a maker's chart: fields, validation and expectations all read this table. */
export const MAKERS_ROWS = {
  suctionPressure: {
    ...PRESSURE,
    label: 'Suction pressure',
    u: 5 * PSI,
    feature: 'evaporating',
  },
  liquidPressure: {
    ...PRESSURE,
    label: 'Liquid (high-side) pressure',
    u: 12 * PSI,
    feature: 'condensing',
  },
  evaporating: {
    ...LEVEL,
    label: 'Evaporating temperature',
    u: degF(3),
    feature: 'evaporating',
  },
  condensing: { ...LEVEL, label: 'Condensing temperature', u: degF(3), feature: 'condensing' },
  superheat: { ...GAP, label: 'Superheat', u: degF(5), feature: 'superheat' },
  subcooling: { ...GAP, label: 'Subcooling', u: degF(3), feature: 'subcooling' },
  discharge: {
    ...LEVEL,
    label: 'Discharge line temperature',
    u: degF(10),
    feature: 'discharge',
  },
  airChange: {
    ...GAP,
    label: 'Air temperature drop (in heating: rise)',
    u: degF(3),
    feature: 'airChange',
  },
  current: {
    quantity: 'current',
    min: 0,
    max: 500,
    label: 'Compressor current',
    u: 0.1,
    feature: 'current',
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

/** The conditions the maker's values hold at; null where they hold now. */
export function makersConditions(data: MakersData, now: Conditions): Conditions | null {
  if (data.at === null || data.at === undefined) return null;
  const exact = (value: number | null): Uncertain | null =>
    value === null ? null : { value, u: 0 };
  const { outdoorAir, returnAir, returnWetBulb } = data.at;
  return {
    // What a chart does not ask for, it does not depend on: it holds at the present value.
    outdoor: exact(outdoorAir) ?? now.outdoor,
    returnAir: exact(returnAir) ?? now.returnAir,
    returnWetBulb: exact(returnWetBulb) ?? (returnAir === null ? now.returnWetBulb : null),
    supplyAir: null,
    airRefused: null,
    atmosphere: now.atmosphere,
  };
}

/**
 * The maker's values as features: a temperature typed in stands before the pressure of the same
 * side, which is turned into saturation (dew on the low side, bubble on the high side). A pressure
 * outside the refrigerant's curves gives none.
 */
export function makersFeatures(
  data: MakersData,
  config: EngineConfig,
): Partial<Record<FeatureKey, Uncertain>> {
  const { curves } = refrigerant(config.refrigerant);
  const features: Partial<Record<FeatureKey, Uncertain>> = {};
  for (const key of MAKERS_KEYS) {
    const typed = data[key];
    if (typed === undefined) continue;
    const { feature, quantity } = makersRow(key);
    if (quantity !== 'pressure') {
      features[feature] = typed;
      continue;
    }
    const f = ([p = NaN]: readonly number[]) =>
      key === 'suctionPressure' ? curves.tDew(p) : curves.tBubble(p);
    const value = f([typed.value]);
    const u = 2 * propagate(f, [{ value: typed.value, u: typed.u / 2 }]);
    if (Number.isFinite(value) && Number.isFinite(u)) features[feature] = { value, u };
  }
  return features;
}
