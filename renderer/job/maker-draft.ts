import {
  MAKERS_KEYS,
  MakersDataSchema,
  makersRow,
  makersTolerance,
  type MakersData,
  type MakersKey,
} from '../../core/diagnosis/maker.ts';
import { STANDARD_ATMOSPHERE } from '../../core/units/pressure.ts';
import { fromSI, toSI, type UnitSymbol } from '../../core/units/symbols.ts';
import { channelDifferenceUnit, type UnitSystem } from '../app/format.ts';
import { fieldText, typedNumber } from '../app/numbers.ts';

/** The conditions that a row of a maker's chart may be printed for. */
export const CONDITION_KEYS = ['outdoorAir', 'returnAir', 'returnWetBulb'] as const;
export type ConditionKey = (typeof CONDITION_KEYS)[number];

/** Texts of one row: the value, and the tolerance where the paper names one. */
export interface MakerRowDraft {
  readonly value: string;
  readonly tolerance: string;
}

/** Texts of the whole chart. */
export interface MakerDraft {
  readonly rows: Readonly<Record<MakersKey, MakerRowDraft>>;
  readonly at: Readonly<Record<ConditionKey, string>>;
}

/** What is wrong, by `maker.` and the key of the field. */
type MakerErrors = Readonly<Record<string, string>>;

interface Shown {
  readonly symbol: UnitSymbol;
  readonly text: string;
  readonly decimals: number;
}

const SHOWN = {
  us: {
    pressure: { symbol: 'psig', text: 'psig', decimals: 1 },
    temperature: { symbol: 'degF', text: '°F', decimals: 1 },
    difference: { symbol: 'degF', text: '°F', decimals: 1 },
    current: { symbol: 'A', text: 'A', decimals: 2 },
  },
  si: {
    pressure: { symbol: 'kPag', text: 'kPag', decimals: 0 },
    temperature: { symbol: 'degC', text: '°C', decimals: 1 },
    difference: { symbol: 'K', text: 'K', decimals: 1 },
    current: { symbol: 'A', text: 'A', decimals: 2 },
  },
  bar: {
    pressure: { symbol: 'barg', text: 'barg', decimals: 3 },
    temperature: { symbol: 'degC', text: '°C', decimals: 1 },
    difference: { symbol: 'K', text: 'K', decimals: 1 },
    current: { symbol: 'A', text: 'A', decimals: 2 },
  },
} as const satisfies Record<UnitSystem, Record<string, Shown>>;

/** How a row is typed: its unit. */
export function makerUnit(key: MakersKey, system: UnitSystem): Shown {
  return SHOWN[system][makersRow(key).quantity];
}

/** The unit of a tolerance: that of the value, of a temperature a difference. */
export function toleranceUnit(key: MakersKey, system: UnitSystem): string {
  const { quantity } = makersRow(key);
  if (quantity === 'pressure') return channelDifferenceUnit('suctionPressure', system);
  return SHOWN[system][quantity === 'temperature' ? 'difference' : quantity].text;
}

/** The unit in which the conditions are typed. */
export function conditionUnit(system: UnitSystem): string {
  return SHOWN[system].temperature.text;
}

/** SI of a change of one in the unit shown. */
function scale(key: MakersKey, system: UnitSystem): number {
  const { symbol } = makerUnit(key, system);
  return toSI(1, symbol, 0) - toSI(0, symbol, 0);
}

/** Gauge pressures of a printed chart stand over the atmosphere at sea level, wherever the unit is. */
function valueSI(key: MakersKey, shown: number, system: UnitSystem): number {
  if (makersRow(key).quantity === 'difference') return shown * scale(key, system);
  return toSI(shown, makerUnit(key, system).symbol, STANDARD_ATMOSPHERE);
}

function valueShown(key: MakersKey, si: number, system: UnitSystem): number {
  if (makersRow(key).quantity === 'difference') return si / scale(key, system);
  return fromSI(si, makerUnit(key, system).symbol, STANDARD_ATMOSPHERE);
}

/** What is taken as the tolerance of a row where none is typed, in words; empty without a value. */
export function assumedTolerance(key: MakersKey, value: string, system: UnitSystem): string {
  const shown = typedNumber(value);
  if (shown === null || Number.isNaN(shown)) return '';
  const u = makersTolerance(key, valueSI(key, shown, system)) / scale(key, system);
  return fieldText(u, makerUnit(key, system).decimals);
}

/** The fields of what is stored. */
export function makerDraft(data: MakersData, system: UnitSystem): MakerDraft {
  const rows = Object.fromEntries(
    MAKERS_KEYS.map((key) => {
      const typed = data[key];
      const { decimals } = makerUnit(key, system);
      if (typed === undefined) return [key, { value: '', tolerance: '' }];
      const value = fieldText(valueShown(key, typed.value, system), decimals);
      const assumed = Math.abs(typed.u - makersTolerance(key, typed.value)) < 1e-6 * typed.u;
      const tolerance = assumed ? '' : fieldText(typed.u / scale(key, system), decimals);
      return [key, { value, tolerance }];
    }),
  ) as Record<MakersKey, MakerRowDraft>;
  const condition = (key: ConditionKey): string => {
    const kelvin = data.at?.[key] ?? null;
    const { symbol } = SHOWN[system].temperature;
    return fieldText(kelvin === null ? null : fromSI(kelvin, symbol, 0), 1);
  };
  const at = {
    outdoorAir: condition('outdoorAir'),
    returnAir: condition('returnAir'),
    returnWetBulb: condition('returnWetBulb'),
  };
  return { rows, at };
}

/** What the fields say, checked by the schema of the record; or what is wrong, by field. */
export function makerOfDraft(
  draft: MakerDraft,
  system: UnitSystem,
): { readonly maker: MakersData } | { readonly errors: MakerErrors } {
  const errors: Record<string, string> = {};
  const data: Record<string, unknown> = {};
  for (const key of MAKERS_KEYS) {
    const row = rowOf(key, draft.rows[key], system);
    if ('error' in row) errors[`maker.${key}`] = row.error;
    else if (row.entry !== null) data[key] = row.entry;
  }
  const at: Record<string, number | null> = {};
  for (const key of CONDITION_KEYS) {
    const shown = typedNumber(draft.at[key]);
    if (Number.isNaN(shown)) errors[`maker.at.${key}`] = 'a temperature, or empty';
    at[key] = shown === null ? null : toSI(shown, SHOWN[system].temperature.symbol, 0);
  }
  if (Object.values(at).some((kelvin) => kelvin !== null)) data['at'] = at;
  if (Object.keys(errors).length > 0) return { errors };
  const parsed = MakersDataSchema.safeParse(data);
  if (parsed.success) return { maker: parsed.data };
  for (const issue of parsed.error.issues) {
    const [first, second] = issue.path;
    const field = first === 'at' ? `maker.at.${String(second)}` : `maker.${String(first)}`;
    errors[field] ??= field.startsWith('maker.at.')
      ? conditionError(issue.code, issue.message)
      : issue.message;
  }
  return { errors };
}

function conditionError(code: string, message: string): string {
  return code === 'custom' ? message : 'between −50 °C and 70 °C (−58 °F and 158 °F)';
}

function rowOf(
  key: MakersKey,
  row: MakerRowDraft,
  system: UnitSystem,
): { readonly entry: { value: number; u: number } | null } | { readonly error: string } {
  const shown = typedNumber(row.value);
  const tolerance = typedNumber(row.tolerance);
  if (Number.isNaN(shown)) return { error: 'a number, or empty' };
  if (Number.isNaN(tolerance)) return { error: 'the tolerance is a number, or empty' };
  if (shown === null) {
    return tolerance === null ? { entry: null } : { error: 'a tolerance needs its value' };
  }
  const value = valueSI(key, shown, system);
  const u = tolerance === null ? makersTolerance(key, value) : tolerance * scale(key, system);
  return { entry: { value, u } };
}
