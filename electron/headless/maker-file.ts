import { z } from 'zod';
import {
  MAKERS_KEYS,
  MakersDataSchema,
  makersRow,
  makersTolerance,
  type MakersData,
  type MakersKey,
} from '../../core/diagnosis/maker.ts';
import { STANDARD_ATMOSPHERE } from '../../core/units/pressure.ts';
import {
  isUnitSymbol,
  splitValueAndUnit,
  toSI,
  UNIT_SYMBOLS,
  unitFits,
  type Quantity,
  type UnitSymbol,
} from '../../core/units/symbols.ts';
import type { UserError } from './args.ts';
import { placed, readJsonFile } from './json-file.ts';

const entry = z.union([z.string(), z.strictObject({ value: z.string(), tolerance: z.string() })], {
  error: 'must be a value with its unit, or {"value": "...", "tolerance": "..."}',
});
const air = z.string().optional();

/**
 * The file of `--maker`: one line of the maker's chart, as printed, e.g.
 * `{"at": {"outdoorAir": "95 degF", "returnAir": "80 degF", "returnWetBulb": "67 degF"},
 *   "suctionPressure": "130 psig", "subcooling": {"value": "10 degF", "tolerance": "2 degF"}}`
 */
const fileSchema = z.strictObject({
  ...(Object.fromEntries(MAKERS_KEYS.map((key) => [key, entry.optional()])) as Record<
    MakersKey,
    z.ZodOptional<typeof entry>
  >),
  at: z.strictObject({ outdoorAir: air, returnAir: air, returnWetBulb: air }).optional(),
});

/**
 * Reads what the maker's papers say the readings should be. Gauge pressures of a printed chart stand
 * over the atmosphere at sea level, wherever the unit is.
 *
 * @throws UserError naming the file and the field
 */
export function readMakerFile(path: string): MakersData {
  const stated = readJsonFile(path, fileSchema, 'a line of a maker’s chart');
  const data: Record<string, unknown> = {};
  for (const key of MAKERS_KEYS) {
    const row = stated[key];
    if (row !== undefined) data[key] = readRow(path, key, row);
  }
  if (stated.at !== undefined) data['at'] = readConditions(path, stated.at);
  const parsed = MakersDataSchema.safeParse(data);
  if (parsed.success) return parsed.data;
  const [issue] = parsed.error.issues;
  const inAir = issue?.path[0] === 'at' && issue.code !== 'custom';
  throw placed(
    path,
    issue?.path ?? [],
    inAir ? 'must lie between -50 degC and 70 degC' : (issue?.message ?? 'does not fit'),
  );
}

function readRow(path: string, key: MakersKey, row: z.infer<typeof entry>) {
  const { quantity } = makersRow(key);
  const refuse = (text: string): UserError =>
    placed(path, [key], `'${text}' must be a number with a unit of ${unitsOf(quantity)}`);
  const value = typeof row === 'string' ? row : row.value;
  const typed = quantityOf(value, quantity === 'difference' ? 'temperature' : quantity);
  if (typed === null) throw refuse(value);
  const si =
    quantity === 'difference'
      ? typed.value * UNIT_SYMBOLS[typed.unit].scale
      : toSI(typed.value, typed.unit, STANDARD_ATMOSPHERE);
  if (typeof row === 'string') return { value: si, u: makersTolerance(key, si) };
  const width = quantityOf(row.tolerance, quantity === 'difference' ? 'temperature' : quantity);
  if (width === null) throw refuse(row.tolerance);
  return { value: si, u: width.value * UNIT_SYMBOLS[width.unit].scale };
}

function readConditions(
  path: string,
  at: Readonly<Record<string, string | undefined>>,
): Record<string, number | null> {
  const read = (key: string): number | null => {
    const text = at[key];
    if (text === undefined) return null;
    const typed = quantityOf(text, 'temperature');
    if (typed === null) {
      throw placed(path, ['at', key], `'${text}' must be a number with a unit of degF, degC, K`);
    }
    return toSI(typed.value, typed.unit, 0);
  };
  return {
    outdoorAir: read('outdoorAir'),
    returnAir: read('returnAir'),
    returnWetBulb: read('returnWetBulb'),
  };
}

function quantityOf(
  text: string,
  quantity: Quantity,
): { readonly value: number; readonly unit: UnitSymbol } | null {
  const parsed = splitValueAndUnit(text);
  if (!parsed.ok || !isUnitSymbol(parsed.value.unit)) return null;
  const { value, unit } = parsed.value;
  return unitFits(unit, quantity) ? { value, unit } : null;
}

function unitsOf(quantity: Quantity | 'difference'): string {
  const of = quantity === 'difference' ? 'temperature' : quantity;
  return Object.keys(UNIT_SYMBOLS)
    .filter((symbol) => isUnitSymbol(symbol) && unitFits(symbol, of))
    .join(', ');
}
