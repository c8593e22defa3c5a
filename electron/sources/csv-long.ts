import { fail, ok, type Result } from '../../core/result.ts';
import {
  csvError,
  parseColumn,
  withoutEmptyEnd,
  type CsvColumn,
  type CsvError,
} from './csv-header.ts';
import { isTimeName, splitName } from './csv-names.ts';
import { TableReader, type CsvPlace } from './csv-reader.ts';
import { eachRow, headerCells, isBlank, type CsvText } from './csv-rows.ts';
import type { CsvTable } from './csv-table.ts';
import { oneLine } from './csv-cells.ts';
import { rowLengthText } from './row-length.ts';

/**
 * Long tables: a row for each reading with its time, its channel and its value, as databases and many
 * loggers write them. The unit stands in a column of its own, in the name of the channel
 * (`suctionPressure[psig]`), or with the value (`value[degF]`). The rows stand in the order of time, or
 * one channel after the other.
 */

/** How people name the columns of such a table. */
const NAMES = {
  channel: ['channel', 'sensor', 'quantity', 'name'],
  value: ['value', 'reading'],
  unit: ['unit', 'units'],
} as const;

type Part = 'time' | keyof typeof NAMES;

/** Which part of a reading a column holds; null where none. */
function partOf(name: string): Part | null {
  const words = splitName(name.trim()).words.toLowerCase();
  if (isTimeName(words)) return 'time';
  const parts = Object.keys(NAMES) as (keyof typeof NAMES)[];
  return parts.find((part) => (NAMES[part] as readonly string[]).includes(words)) ?? null;
}

/** Whether a header is that of a long table: it has a column of channels and one of values. */
export function isLong(header: readonly string[]): boolean {
  const parts = header.map(partOf);
  return parts.includes('channel') && parts.includes('value');
}

/** Where the parts of a reading stand, from 0; the unit may have no column. */
interface Layout {
  readonly names: readonly string[];
  readonly time: number;
  readonly channel: number;
  readonly value: number;
  readonly unit: number | null;
  readonly timeColumn: CsvColumn;
  /** The unit of every value, from the header; null where it has none. */
  readonly unitOfAll: string | null;
}

function layoutOf(header: readonly string[]): Result<Layout, CsvError> {
  const names = header.map((name) => name.trim());
  const at = new Map<Part, number>();
  for (const [i, name] of names.entries()) {
    const part = partOf(name);
    if (part === null) {
      const detail =
        'a table with a row for each reading has the columns time, channel, value and unit: remove this one';
      return fail(csvError(1, i + 1, name, detail));
    }
    const before = at.get(part);
    if (before !== undefined) {
      return fail(csvError(1, i + 1, name, `the ${part} is already in column ${before + 1}`));
    }
    at.set(part, i);
  }
  const time = at.get('time');
  if (time === undefined) {
    return fail(csvError(1, null, null, 'there is no time column: add time[s] or time'));
  }
  const timeColumn = parseColumn(names[time] ?? '');
  if (!timeColumn.ok) return fail(csvError(1, time + 1, names[time] ?? null, timeColumn.error));
  const value = at.get('value') ?? 0;
  return ok({
    names,
    time,
    channel: at.get('channel') ?? 0,
    value,
    unit: at.get('unit') ?? null,
    timeColumn: timeColumn.value,
    unitOfAll: splitName(names[value] ?? '').unit,
  });
}

/** The channels of a long table, in the order in which they first appear. */
class Channels {
  readonly columns: CsvColumn[];
  readonly #layout: Layout;
  /** By what is written for channel and unit: the column. */
  readonly #known = new Map<string, number>();
  readonly #firstLines = new Map<string, number>();

  constructor(layout: Layout) {
    this.#layout = layout;
    this.columns = [layout.timeColumn];
  }

  /** The column of a reading; an error where its channel or its unit is not known. */
  of(row: readonly string[], line: number): Result<number, CsvError> {
    const { channel, unit, unitOfAll } = this.#layout;
    const name = (row[channel] ?? '').trim();
    const written = splitName(name).unit ?? (unit === null ? unitOfAll : (row[unit] ?? '').trim());
    const key = `${name}\n${written ?? ''}`;
    const known = this.#known.get(key);
    if (known !== undefined) return ok(known);
    const found = this.#find(name, written, line);
    if (!found.ok) {
      const at = channel + 1;
      return fail(csvError(line, at, this.#layout.names[channel] ?? null, found.error));
    }
    this.#known.set(key, found.value);
    return found;
  }

  #find(name: string, unit: string | null, line: number): Result<number, string> {
    if (name === '') return fail('the channel is missing');
    const { words } = splitName(name);
    if (isTimeName(words)) return fail(`'${oneLine(name)}' is no channel`);
    const column = parseColumn(unit === null || unit === '' ? words : `${words}[${unit}]`);
    if (!column.ok || column.value.kind === 'time') return fail(this.#unknown(words, unit, column));
    const { channel, unit: symbol } = column.value;
    const at = this.columns.findIndex((c) => c.kind === 'channel' && c.channel === channel);
    const before = this.columns[at];
    if (before?.kind !== 'channel') {
      this.#firstLines.set(channel, line);
      return ok(this.columns.push(column.value) - 1);
    }
    if (before.unit === symbol) return ok(at);
    const first = this.#firstLines.get(channel) ?? 2;
    return fail(
      `${channel} is in ${symbol} here and in ${before.unit} in line ${first}: write one unit throughout`,
    );
  }

  #unknown(words: string, unit: string | null, column: Result<CsvColumn, string>): string {
    if (unit === null || unit === '') {
      return `'${oneLine(words)}' has no unit here: write it in a column unit, or channel[unit]; where it is no channel of ours, remove its rows`;
    }
    const detail = column.ok ? `there is no channel ${oneLine(words)}` : column.error;
    return `${detail}; remove the rows of what is none`;
  }
}

/** Puts readings of one time that follow one another together, each in its column. */
class Rows {
  readonly #reader: TableReader;
  #time = '';
  #timeLine = 0;
  #cells: (string | undefined)[] = [];
  #lines: number[] = [];

  constructor(reader: TableReader) {
    this.#reader = reader;
  }

  /** Takes a reading; what is wrong with the row that it ends. */
  add(time: string, column: number, value: string, line: number): CsvError | null {
    const joins =
      this.#cells.length > 0 && time === this.#time && this.#cells[column] === undefined;
    const error = joins ? null : this.flush();
    if (!joins) {
      this.#time = time;
      this.#timeLine = line;
    }
    this.#cells[column] = value;
    this.#lines[column] = line;
    return error;
  }

  /** Hands on what is left. */
  flush(): CsvError | null {
    if (this.#cells.length === 0) return null;
    this.#cells[0] = this.#time;
    const lines = this.#lines;
    const first = this.#timeLine;
    const error = this.#reader.row(
      Array.from(this.#cells, (cell) => cell ?? ''),
      (i) => lines[i] ?? first,
      // Whole channels may follow one another: each is in order by itself.
      this.#cells.findIndex((cell, i) => i > 0 && cell !== undefined),
    );
    this.#cells = [];
    this.#lines = [];
    return error;
  }
}

/** Reads a table that has a row for each reading: once for its channels, and once for their values. */
export function readLong(table: CsvText): Result<CsvTable, CsvError> {
  const { text, separator } = table;
  const header = layoutOf(headerCells(text.slice(0, text.search(/[\r\n]|$/)), separator));
  if (!header.ok) return header;
  const layout = header.value;
  const channels = new Channels(layout);
  const found = eachReading(table, layout, (row, line) => {
    const column = channels.of(row, line);
    return column.ok ? null : column.error;
  });
  if (found.error !== null) return fail(found.error);
  const place = (at: number): CsvPlace => ({ column: at + 1, name: layout.names[at] ?? null });
  const reader = new TableReader({
    columns: channels.columns,
    places: channels.columns.map((c) => place(c.kind === 'time' ? layout.time : layout.value)),
    commaIsDecimal: table.commaIsDecimal,
    atmosphere: table.atmosphere,
  });
  const rows = new Rows(reader);
  const { error } = eachReading(table, layout, (row, line) => {
    const column = channels.of(row, line);
    if (!column.ok) return column.error;
    return rows.add((row[layout.time] ?? '').trim(), column.value, row[layout.value] ?? '', line);
  });
  const wrong = error ?? rows.flush();
  return wrong === null ? reader.end(table.isCut ? found.lines : null) : fail(wrong);
}

/** Gives the rows under the header, each as long as that. */
function eachReading(
  { text, separator, commaIsDecimal }: CsvText,
  { names }: Layout,
  take: (row: readonly string[], line: number) => CsvError | null,
): ReturnType<typeof eachRow> {
  return eachRow(text, separator, (cells, line) => {
    if (line === 1 || isBlank(cells)) return null;
    const row = withoutEmptyEnd(cells, names.length);
    if (row.length === names.length) return take(row, line);
    const detail = rowLengthText(row, names.length, commaIsDecimal);
    return csvError(line, Math.min(row.length, names.length) + 1, null, detail);
  });
}
