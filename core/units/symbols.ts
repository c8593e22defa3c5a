import { fail, ok, type Result } from '../result.ts';
import { KILOGRAM_PER_POUND } from './mass.ts';
import { PASCAL_PER_BAR, PASCAL_PER_MICRON, PASCAL_PER_PSI } from './pressure.ts';

/** The kinds of quantity a channel can carry. SI unit of each in the comment. */
export type Quantity =
  | 'pressure' /* Pa absolute */
  | 'temperature' /* K */
  | 'humidity' /* 0..1 */
  | 'current' /* A */
  | 'voltage' /* V */
  | 'vacuum' /* Pa absolute */
  | 'mass'; /* kg */

interface UnitRow {
  readonly quantities: readonly Quantity[];
  /** SI = value * scale + offset (+ the local atmosphere where gauge). */
  readonly scale: number;
  readonly offset: number;
  readonly gauge: boolean;
}

const row = (
  quantities: readonly Quantity[],
  scale: number,
  offset = 0,
  gauge = false,
): UnitRow => ({
  quantities,
  scale,
  offset,
  gauge,
});

/** Unit symbols accepted at the edges (files, commands, forms): the whole list, case-sensitive. */
export const UNIT_SYMBOLS = {
  psig: row(['pressure'], PASCAL_PER_PSI, 0, true),
  psia: row(['pressure'], PASCAL_PER_PSI),
  kPag: row(['pressure'], 1e3, 0, true),
  kPa: row(['pressure', 'vacuum'], 1e3),
  barg: row(['pressure'], PASCAL_PER_BAR, 0, true),
  bar: row(['pressure', 'vacuum'], PASCAL_PER_BAR),
  Pa: row(['pressure', 'vacuum'], 1),
  micron: row(['vacuum'], PASCAL_PER_MICRON),
  degF: row(['temperature'], 1 / 1.8, 459.67 / 1.8),
  degC: row(['temperature'], 1, 273.15),
  K: row(['temperature'], 1),
  percent: row(['humidity'], 0.01),
  fraction: row(['humidity'], 1),
  A: row(['current'], 1),
  V: row(['voltage'], 1),
  lb: row(['mass'], KILOGRAM_PER_POUND),
  oz: row(['mass'], KILOGRAM_PER_POUND / 16),
  kg: row(['mass'], 1),
} as const satisfies Record<string, UnitRow>;

/** A unit symbol that the program reads and writes. */
export type UnitSymbol = keyof typeof UNIT_SYMBOLS;

/** Tells whether a text is one of our unit symbols. */
export function isUnitSymbol(text: string): text is UnitSymbol {
  return Object.hasOwn(UNIT_SYMBOLS, text);
}

/** Whether a symbol measures above the local atmosphere, so that conversion needs a barometer. */
export function isGauge(symbol: UnitSymbol): boolean {
  return UNIT_SYMBOLS[symbol].gauge;
}

/** Whether a symbol can express a quantity. */
export function unitFits(symbol: UnitSymbol, quantity: Quantity): boolean {
  return UNIT_SYMBOLS[symbol].quantities.includes(quantity);
}

/**
 * SI from a value in the given unit.
 *
 * @param atmosphere_Pa local atmosphere in Pa, used for gauge units only
 */
export function toSI(value: number, symbol: UnitSymbol, atmosphere_Pa: number): number {
  const u = UNIT_SYMBOLS[symbol];
  return value * u.scale + u.offset + (u.gauge ? atmosphere_Pa : 0);
}

/** A value in the given unit from SI; the inverse of {@link toSI}. */
export function fromSI(si: number, symbol: UnitSymbol, atmosphere_Pa: number): number {
  const u = UNIT_SYMBOLS[symbol];
  return (si - u.offset - (u.gauge ? atmosphere_Pa : 0)) / u.scale;
}

/** A number with its unit, as people type it: `118 psig`, `95degF`, `600 ft`. */
export function splitValueAndUnit(
  text: string,
): Result<
  { readonly value: number; readonly unit: string },
  { code: 'NOT_A_QUANTITY'; text: string }
> {
  const match = /^\s*([-+]?(?:\d+\.?\d*|\.\d+)(?:e[-+]?\d+)?)\s*([A-Za-z]+)\s*$/i.exec(text);
  const value = Number(match?.[1]);
  if (match?.[2] === undefined || !Number.isFinite(value)) {
    return fail({ code: 'NOT_A_QUANTITY', text });
  }
  return ok({ value, unit: match[2] });
}
