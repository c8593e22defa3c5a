import Papa from 'papaparse';
import { fail, ok, type Result } from '../../core/result.ts';
import { channelRow, type ChannelKey } from '../../core/stream/channels.ts';
import type { Sample } from '../../core/stream/sample.ts';
import { isGauge, toSI } from '../../core/units/symbols.ts';
import { GrowingColumn } from './growing-column.ts';
import { withoutCutLine } from './cut-line.ts';
import { outOfRangeNote, type OutOfRange } from './out-of-range.ts';
import { rowLengthText } from './row-length.ts';
import { paceNotes } from './pace-note.ts';
import { tableGaps } from './table-gaps.ts';
import {
  csvError,
  parseHeader,
  withoutEmptyEnd,
  type CsvColumn,
  type CsvError,
} from './csv-header.ts';
import { timeText } from './time-text.ts';
import { unlikelyUnitNote } from './unlikely-unit.ts';

/** A table of logged channels, read whole: SI, by column. */
export interface CsvTable {
  readonly channels: readonly ChannelKey[];
  /** Channels that were gauge pressure and were made absolute with `atmosphere_Pa`. */
  readonly gaugeChannels: readonly ChannelKey[];
  readonly atmosphere_Pa: number;
  /** Seconds, non-decreasing: as written for time[s], since the earliest row for ISO times. */
  readonly times: Float64Array;
  /** Rows that stood later in the file than their time, and were put in its order. */
  readonly reordered: number;
  /** SI values by channel; NaN where the cell is empty. */
  readonly values: readonly Float64Array[];
  /** By channel, 1 where an empty cell is a gap and not the pause of a slow sensor. */
  readonly gaps: readonly Uint8Array[];
  /** The wall-clock time of t = 0 for ISO times; null for time[s]. */
  readonly origin: string | null;
  /** What was left out or cannot be used, with its place: for the person who gave the table. */
  readonly notes: readonly string[];
}

/**
 * Loggers that write what arrives put a few seconds out of order; further back than this the clock
 * was set or two sessions stand in one file, and no order is right. Seconds.
 */
const LATEST_S = 60;

const NUMBER = /^[-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?$/;
const DECIMAL_COMMA = /^[-+]?(?:\d+,\d*|,\d+)(?:[eE][-+]?\d+)?$/;
/** ISO 8601; the year first is enough to know day and month, so strokes will do as well. */
const ISO =
  /^\d{4}([-/])\d{2}\1\d{2}[T ]\d{2}:\d{2}(?::\d{2}(?:[.,]\d+)?)?(?:Z|[-+]\d{2}(?::?\d{2})?)?$/;
/** What loggers and spreadsheets write where there is no value. */
const NO_VALUE = /^(?:nan|n\/?a|#n\/a|null|none|-+)$/i;
/** No session is this long in seconds (3000 years): such times count milliseconds. */
const LONGEST_S = 1e11;

/** The separator of a table, from its header: semicolon, tab or comma. */
function separatorOf(header: string): ';' | '\t' | ',' {
  const bare = header.replace(/"[^"]*"/g, '');
  if (bare.includes(';')) return ';';
  return bare.includes('\t') ? '\t' : ',';
}

/**
 * Reads a number; a decimal comma counts only where commas do not separate cells.
 *
 * @returns NaN where the text is no number
 */
function readNumber(text: string, commaIsDecimal: boolean): number {
  if (NUMBER.test(text)) return Number(text);
  if (commaIsDecimal && DECIMAL_COMMA.test(text)) return Number(text.replace(',', '.'));
  return NaN;
}

/** Whether a date is in the calendar: the parser of the runtime takes 30 February for 2 March. */
function isDay(text: string): boolean {
  const [year = NaN, month = NaN, day = NaN] = text.slice(0, 10).split(/[-/]/).map(Number);
  const date = new Date(Date.UTC(year, month - 1, day));
  return date.getUTCMonth() === month - 1 && date.getUTCDate() === day;
}

/** Whether a time says in which zone it is. */
function hasZone(text: string): boolean {
  return /(?:Z|[-+]\d{2}(?::?\d{2})?)$/.test(text.slice(11));
}

/** Milliseconds of an ISO 8601 time; a time without zone is read as UTC. NaN where it is none. */
function readIso(text: string): number {
  if (!ISO.test(text) || !isDay(text)) return NaN;
  const zoned = hasZone(text);
  const normal = text
    .replaceAll('/', '-')
    .replace(' ', 'T')
    .replace(',', '.')
    .replace(/([-+]\d{2})(\d{2})$/, '$1:$2')
    .replace(/([-+]\d{2})$/, (zone, _hours, at: number) => (at > 10 ? `${zone}:00` : zone));
  return Date.parse(zoned ? normal : `${normal}Z`);
}

/**
 * Reads a table of logged channels. Accepted: comma, semicolon or tab; quoted cells; CRLF; a byte
 * order mark; a decimal comma where commas do not separate cells; empty cells (or NaN, N/A, --), which are
 * gaps where the channel is silent for long; empty cells behind the last column; rows up to a minute late, which are put in the order of their
 * time; a last line cut off, which is left out and told in the notes. Anything else is an error with its
 * line and column, and nothing is read by halves.
 *
 * @param text the whole file
 * @param atmosphere_Pa local atmosphere that makes gauge columns absolute, Pa
 */
export function parseCsv(text: string, atmosphere_Pa: number): Result<CsvTable, CsvError> {
  const bare = text.startsWith('\uFEFF') ? text.slice(1) : text;
  // Bytes that are no UTF-8 were decoded to the replacement character: Latin-1, most often.
  if (bare.includes('\0') || bare.includes('\uFFFD')) {
    return fail(
      csvError(1, null, null, 'this is not text in UTF-8; save the table as CSV in UTF-8'),
    );
  }
  const firstLine = bare.slice(0, bare.search(/[\r\n]|$/));
  const separator = separatorOf(firstLine);
  const below = headerBelow(bare, separator);
  if (below !== null) {
    const detail = `the first line must be the header, which stands in line ${below}: remove the lines above it`;
    return fail(csvError(1, null, null, detail));
  }
  if (firstLine.trim() === '') {
    return fail(csvError(1, null, null, 'the first line must be the header, and it is empty'));
  }
  const whole = withoutCutLine(bare, separator);
  const reader = new TableReader(separator !== ',', atmosphere_Pa);
  const error = eachRow(whole, separator, (row) => reader.row(row));
  return error === null ? reader.end(whole !== bare) : fail(error);
}

/** Lines above the header that loggers write: site, date, serial number. */
const MOST_ABOVE = 30;

/** The line of a header that does not stand in the first line; null where it does or there is none. */
function headerBelow(text: string, first: ';' | '\t' | ','): number | null {
  const lines = text.slice(0, 1 << 14).split(/\r\n|\r|\n/, MOST_ABOVE);
  const isHeader = (line: string, separator: string): boolean => {
    const cells = Papa.parse<string[]>(line, { delimiter: separator }).data[0] ?? [];
    return parseHeader(withoutEmptyEnd(cells, 1), 1).ok;
  };
  if (isHeader(lines[0] ?? '', first)) return null;
  const at = lines.findIndex((line) => line !== '' && isHeader(line, separatorOf(line)));
  return at === -1 ? null : at + 1;
}

/** Characters handed to papaparse at once: all rows of a large table would take twenty times its size. */
const CHUNK = 1 << 18;

/** Gives the rows of a table one after the other; stops at the first error and returns it. */
function eachRow(
  text: string,
  delimiter: string,
  take: (row: readonly string[]) => CsvError | null,
): CsvError | null {
  let rows = 0;
  let error: CsvError | null = null;
  Papa.parse<string[]>(text, {
    delimiter,
    skipEmptyLines: false,
    chunkSize: CHUNK,
    step: ({ data, errors: [quoteError] }, parser) => {
      rows += 1;
      error =
        quoteError === undefined ? take(data) : csvError(rows, null, null, quoteError.message);
      if (error !== null) parser.abort();
    },
  });
  return error;
}

/** Reads a header and the rows under it, as they come. */
class TableReader {
  #names: readonly string[] = [];
  #columns: readonly CsvColumn[] = [];
  #lines = 0;
  readonly #commaIsDecimal: boolean;
  readonly #atmosphere: number;
  readonly #times = new GrowingColumn();
  #values: readonly GrowingColumn[] = [];
  #originMs: number | null = null;
  #latest = -Infinity;
  #reordered = 0;
  #zoned: boolean | null = null;
  readonly #outOfRange = new Map<number, OutOfRange>();

  constructor(commaIsDecimal: boolean, atmosphere: number) {
    this.#commaIsDecimal = commaIsDecimal;
    this.#atmosphere = atmosphere;
  }

  /** Takes the next row, the header first; what is wrong with it. */
  row(row: readonly string[]): CsvError | null {
    this.#lines += 1;
    if (this.#lines === 1) return this.#header(row);
    const isEmpty = row.length === 1 && row[0]?.trim() === '';
    return isEmpty ? null : this.#cells(row, this.#lines);
  }

  /**
   * The table of all rows taken.
   *
   * @param cut whether a last line that was cut off is missing from them
   */
  end(cut: boolean): Result<CsvTable, CsvError> {
    if (this.#times.length === 0) {
      return fail(csvError(2, null, null, 'there is no row under the header'));
    }
    const note = `line ${this.#lines}: the last line was cut off and is left out; all above it is read`;
    const table = this.#table([...(cut ? [note] : []), ...this.#rangeNotes()]);
    const notes = [...table.notes, ...this.#unitNotes(table), ...paceNotes(table)];
    return ok({ ...table, notes });
  }

  #header(cells: readonly string[]): CsvError | null {
    const names = withoutEmptyEnd(cells, 1);
    const header = parseHeader(names, 1);
    if (!header.ok) return header.error;
    this.#names = names;
    this.#columns = header.value;
    this.#values = header.value.map(() => new GrowingColumn());
    return null;
  }

  #cells(cells: readonly string[], line: number): CsvError | null {
    const row = withoutEmptyEnd(cells, this.#columns.length);
    if (row.length !== this.#columns.length) {
      const detail = rowLengthText(row, this.#columns.length, this.#commaIsDecimal);
      return csvError(line, Math.min(row.length, this.#columns.length) + 1, null, detail);
    }
    for (const [i, column] of this.#columns.entries()) {
      const cell = (row[i] ?? '').trim();
      const detail =
        column.kind === 'time'
          ? this.#time(cell, column.scale)
          : this.#value(cell, i, column, line);
      if (detail !== null) return csvError(line, i + 1, this.#nameOf(i), detail);
    }
    return null;
  }

  #time(cell: string, scale: number | null): string | null {
    if (cell === '') return 'the time is missing';
    let t: number;
    if (scale !== null) {
      t = readNumber(cell, this.#commaIsDecimal) * scale;
      if (!Number.isFinite(t) || Math.abs(t) > LONGEST_S) {
        return timeText(oneLine(cell), scale);
      }
    } else {
      const ms = readIso(cell);
      if (!Number.isFinite(ms)) return timeText(oneLine(cell), null);
      if (hasZone(cell) !== (this.#zoned ??= hasZone(cell))) {
        return 'some times have a zone and others have none; write it in each of them or in none';
      }
      t = (ms - (this.#originMs ??= ms)) / 1000;
    }
    if (t < this.#latest - LATEST_S) {
      const hint =
        this.#zoned === false ? 'where the clock was changed, write the zone; else ' : '';
      return `the time goes back by more than ${LATEST_S} s: ${t} s after ${this.#latest} s; ${hint}sort the rows by time, or give each session a file of its own`;
    }
    if (t < this.#latest) this.#reordered += 1;
    this.#latest = Math.max(this.#latest, t);
    this.#times.push(t);
    return null;
  }

  #value(
    cell: string,
    i: number,
    column: CsvColumn & { kind: 'channel' },
    line: number,
  ): string | null {
    const list = this.#values[i];
    if (list === undefined) return 'the column is not in the header';
    if (cell === '' || NO_VALUE.test(cell)) {
      list.push(NaN);
      return null;
    }
    // In SI, so that a number that only fits in its own unit is none either.
    const value = toSI(readNumber(cell, this.#commaIsDecimal), column.unit, this.#atmosphere);
    if (!Number.isFinite(value)) {
      return `'${oneLine(cell)}' is not a number; leave the cell empty where there is no value`;
    }
    list.push(value);
    const { min, max } = channelRow(column.channel);
    if (value < min || value > max) {
      const before = this.#outOfRange.get(i);
      this.#outOfRange.set(i, { ...(before ?? { line, cell }), count: (before?.count ?? 0) + 1 });
    }
    return null;
  }

  #nameOf(i: number): string | null {
    return this.#names[i]?.trim() ?? null;
  }

  #rangeNotes(): string[] {
    return this.#columns.flatMap((column, i) => {
      const found = this.#outOfRange.get(i);
      if (found === undefined || column.kind === 'time') return [];
      const place = { column: i + 1, rows: this.#times.length, atmosphere_Pa: this.#atmosphere };
      return [outOfRangeNote(found, column, place)];
    });
  }

  #unitNotes(table: CsvTable): string[] {
    const channels = this.#columns.flatMap((column, i) =>
      column.kind === 'time' ? [] : [{ column, at: i + 1 }],
    );
    return channels.flatMap(({ column, at }, i) => {
      if (this.#outOfRange.has(at - 1)) return [];
      const note = unlikelyUnitNote(table.values[i] ?? new Float64Array(), column, {
        column: at,
        atmosphere_Pa: this.#atmosphere,
      });
      return note === null ? [] : [note];
    });
  }

  #table(notes: readonly string[]): CsvTable {
    const order = this.#reordered > 0 ? inOrder(this.#times.numbers()) : null;
    const sorted = (column: GrowingColumn): Float64Array => {
      const list = column.numbers();
      return order === null ? list.slice() : Float64Array.from(order, (i) => list[i] ?? NaN);
    };
    const times = sorted(this.#times);
    // A row that stood later may be the earliest of an ISO table, whose times begin at 0.
    const early = this.#originMs === null ? 0 : (times[0] ?? 0);
    const channels: ChannelKey[] = [];
    const gaugeChannels: ChannelKey[] = [];
    const values: Float64Array[] = [];
    for (const [i, column] of this.#columns.entries()) {
      if (column.kind === 'time') continue;
      channels.push(column.channel);
      if (isGauge(column.unit)) gaugeChannels.push(column.channel);
      values.push(sorted(this.#values[i] ?? new GrowingColumn()));
    }
    return {
      channels,
      gaugeChannels,
      atmosphere_Pa: this.#atmosphere,
      times: early === 0 ? times : times.map((t) => t - early),
      reordered: this.#reordered,
      values,
      gaps: values.map((list) => tableGaps(times, list)),
      origin:
        this.#originMs === null ? null : new Date(this.#originMs + early * 1000).toISOString(),
      notes,
    };
  }
}

/** The rows in the order of their times; those of one time stay in the order of the file. */
function inOrder(times: Float64Array): Uint32Array {
  return Uint32Array.from(times, (_, i) => i).sort(
    (a, b) => (times[a] ?? 0) - (times[b] ?? 0) || a - b,
  );
}

/** A cell as it is quoted in an error: short, and on one line. */
function oneLine(cell: string): string {
  const line = cell.replace(/\s+/g, ' ');
  return line.length > 40 ? `${line.slice(0, 40)}…` : line;
}

/** The samples of one row of a table, in the order of its columns; gaps where values are missing. */
export function rowSamples(table: CsvTable, row: number): Sample[] {
  const t = table.times[row] ?? NaN;
  return table.channels.flatMap((channel, i): Sample[] => {
    const value = table.values[i]?.[row] ?? NaN;
    if (!Number.isNaN(value)) return [{ channel, t, value }];
    return table.gaps[i]?.[row] === 1 ? [{ channel, t, value: null, why: 'empty' }] : [];
  });
}
