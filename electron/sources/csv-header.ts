import { CHANNEL_KEYS, channelRow, type ChannelKey } from '../../core/stream/channels.ts';
import {
  UNIT_SYMBOLS,
  unitFits,
  type Quantity,
  type UnitSymbol,
} from '../../core/units/symbols.ts';
import { fail, ok, type Result } from '../../core/result.ts';
import { channelOf, isTimeName, SECONDS_IN, splitName, unitOf } from './csv-names.ts';

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
  | {
      readonly kind: 'time';
      /** Seconds in one of its units; null for ISO 8601 times. */
      readonly scale: number | null;
    }
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

function unitsOf(quantity: Quantity): string {
  return (Object.keys(UNIT_SYMBOLS) as UnitSymbol[])
    .filter((symbol) => unitFits(symbol, quantity))
    .join(', ');
}

function parseTime(unit: string | null): Result<CsvColumn, string> {
  if (unit === null) return ok({ kind: 'time', scale: null });
  const scale = SECONDS_IN[unit.toLowerCase()];
  return scale === undefined
    ? fail('the time column is time[s], time[min] or time[ms], or time with ISO 8601 values')
    : ok({ kind: 'time', scale });
}

/** Reads the name of one column, `time[s]` or `channel[unit]`; the error says how to write it. */
export function parseColumn(name: string): Result<CsvColumn, string> {
  const { words, unit } = splitName(name);
  if (isTimeName(words)) return parseTime(unit);
  const channel = channelOf(words);
  if (channel === null) {
    return unit === null
      ? fail(
          'is not a column we know: write time[s], time, or channel[unit], one column for each channel, and remove other columns',
        )
      : fail(`there is no channel ${words}; the channels are ${CHANNEL_KEYS.join(', ')}`);
  }
  const { quantity } = channelRow(channel);
  if (unit === null) {
    return fail(
      `is not a column we know without its unit: write ${channel}[unit]; it can be in ${unitsOf(quantity)}`,
    );
  }
  const symbol = unitOf(unit, quantity);
  if (symbol === null) {
    const hint = /^psi$/i.test(unit) ? ': psi does not say whether above the atmosphere' : '';
    return fail(
      `${channel} cannot be in ${unit || 'no unit'}${hint}; it can be in ${unitsOf(quantity)}`,
    );
  }
  return ok({ kind: 'channel', channel, unit: symbol });
}

/** A row without the empty cells at its end, which spreadsheets write where a column once was. */
export function withoutEmptyEnd(cells: readonly string[], atLeast: number): readonly string[] {
  let length = cells.length;
  while (length > atLeast && cells[length - 1]?.trim() === '') length -= 1;
  return length === cells.length ? cells : cells.slice(0, length);
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
