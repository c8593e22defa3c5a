import {
  CHANNEL_KEYS,
  channelRow,
  isChannelKey,
  type ChannelKey,
} from '../../core/stream/channels.ts';
import {
  isUnitSymbol,
  UNIT_SYMBOLS,
  unitFits,
  type Quantity,
  type UnitSymbol,
} from '../../core/units/symbols.ts';
import { fail, ok, type Result } from '../../core/result.ts';

/** Where in a table something is wrong (1-based) and what to do about it. */
export interface CsvError {
  readonly code: 'CSV';
  readonly line: number;
  readonly column: number | null;
  readonly columnName: string | null;
  readonly detail: string;
}

/** One column of a table: the time, or a channel in a unit. */
export type CsvColumn =
  | { readonly kind: 'time'; readonly format: 'seconds' | 'iso' }
  | { readonly kind: 'channel'; readonly channel: ChannelKey; readonly unit: UnitSymbol };

/** An error with its place, in one sentence. */
export function csvErrorText(error: CsvError): string {
  const column =
    error.column === null
      ? ''
      : `, column ${error.column}${error.columnName === null ? '' : ` (${error.columnName})`}`;
  return `line ${error.line}${column}: ${error.detail}`;
}

/** Builds a placed error. */
export function csvError(
  line: number,
  column: number | null,
  columnName: string | null,
  detail: string,
): CsvError {
  return { code: 'CSV', line, column, columnName, detail };
}

/** Signs that people and spreadsheets write for one of our unit symbols, and that mean nothing else. */
const SIGNS: Readonly<Partial<Record<string, UnitSymbol>>> = {
  '%': 'percent',
  '°F': 'degF',
  '°C': 'degC',
};

function unitsOf(quantity: Quantity): string {
  return (Object.keys(UNIT_SYMBOLS) as UnitSymbol[])
    .filter((symbol) => unitFits(symbol, quantity))
    .join(', ');
}

function parseColumn(name: string): Result<CsvColumn, string> {
  if (name === 'time') return ok({ kind: 'time', format: 'iso' });
  if (name === 'time[s]') return ok({ kind: 'time', format: 'seconds' });
  const match = /^(\w+)\[([^\]]*)\]$/.exec(name);
  const [, key, written] = match ?? [];
  if (key === undefined || written === undefined) {
    return fail('is not a column we know: write time[s], time, or channel[unit]');
  }
  if (key === 'time') return fail('the time column is time[s], or time with ISO 8601 values');
  if (!isChannelKey(key)) {
    return fail(`there is no channel ${key}; the channels are ${CHANNEL_KEYS.join(', ')}`);
  }
  const { quantity } = channelRow(key);
  const symbol = SIGNS[written] ?? written;
  if (!isUnitSymbol(symbol) || !unitFits(symbol, quantity)) {
    return fail(`${key} cannot be in ${written || 'no unit'}; it can be in ${unitsOf(quantity)}`);
  }
  return ok({ kind: 'channel', channel: key, unit: symbol });
}

/**
 * Reads the header of a table: one time column and at least one channel, none twice.
 *
 * @param names the cells of the header
 * @param line its line in the file, for errors
 */
export function parseHeader(
  names: readonly string[],
  line: number,
): Result<readonly CsvColumn[], CsvError> {
  const columns: CsvColumn[] = [];
  const seen = new Map<string, number>();
  for (const [i, raw] of names.entries()) {
    const name = raw.trim();
    if (name === '') return fail(csvError(line, i + 1, null, 'the column has no name'));
    const column = parseColumn(name);
    if (!column.ok) return fail(csvError(line, i + 1, name, column.error));
    const key = column.value.kind === 'time' ? 'time' : column.value.channel;
    const before = seen.get(key);
    if (before !== undefined) {
      return fail(csvError(line, i + 1, name, `${key} is already in column ${before}`));
    }
    seen.set(key, i + 1);
    columns.push(column.value);
  }
  if (!seen.has('time')) {
    return fail(csvError(line, null, null, 'there is no time column: add time[s] or time'));
  }
  if (columns.length < 2) {
    return fail(csvError(line, null, null, 'there is no channel column beside the time'));
  }
  return ok(columns);
}
