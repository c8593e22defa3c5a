import { fail, ok, type Result } from '../../core/result.ts';
import { channelRow } from '../../core/stream/channels.ts';
import { isGauge, toSI } from '../../core/units/symbols.ts';
import { hasZone, isNoValue, oneLine, readIso, readNumber } from './csv-cells.ts';
import { csvError, type CsvColumn, type CsvError } from './csv-header.ts';
import type { CsvTable } from './csv-table.ts';
import { GrowingColumn } from './growing-column.ts';
import { joinRows } from './join-rows.ts';
import { outOfRangeNote, type OutOfRange } from './out-of-range.ts';
import { paceNotes } from './pace-note.ts';
import { tableGaps } from './table-gaps.ts';
import { timeText } from './time-text.ts';
import { unlikelyUnitNote } from './unlikely-unit.ts';

/**
 * Loggers that write what arrives put a few seconds out of order; further back than this the clock
 * was set or two sessions stand in one file, and no order is right. Seconds.
 */
const LATEST_S = 60;

/** No session is this long in seconds (3000 years): such times count milliseconds. */
const LONGEST_S = 1e11;

/** Where the cells of a column stand in the file: its place there, from 1, and its name. */
export interface CsvPlace {
  readonly column: number;
  readonly name: string | null;
}

/** Reads rows of one time and a cell for each column, as they come. */
export class TableReader {
  readonly #columns: readonly CsvColumn[];
  readonly #places: readonly CsvPlace[];
  readonly #commaIsDecimal: boolean;
  readonly #atmosphere: number;
  readonly #times = new GrowingColumn();
  readonly #values: readonly GrowingColumn[];
  #originMs: number | null = null;
  /** By series, its latest time so far, s. */
  readonly #latest = new Map<number, number>();
  /** The time of the row before, s, and whether all rows stood in order until then. */
  #before = -Infinity;
  #isInOrder = true;
  #reordered = 0;
  #zoned: boolean | null = null;
  readonly #outOfRange = new Map<number, OutOfRange>();

  constructor(options: {
    readonly columns: readonly CsvColumn[];
    readonly places: readonly CsvPlace[];
    readonly commaIsDecimal: boolean;
    /** That makes gauge columns absolute, Pa. */
    readonly atmosphere: number;
  }) {
    this.#columns = options.columns;
    this.#places = options.places;
    this.#values = options.columns.map(() => new GrowingColumn());
    this.#commaIsDecimal = options.commaIsDecimal;
    this.#atmosphere = options.atmosphere;
  }

  /**
   * Takes the next row; what is wrong with it.
   *
   * @param cells one for each column
   * @param lineOf the line on which the cell of a column stands
   * @param series which rows it is in the order of: one channel after the other may be written down
   */
  row(cells: readonly string[], lineOf: (column: number) => number, series = 0): CsvError | null {
    for (const [i, column] of this.#columns.entries()) {
      const cell = (cells[i] ?? '').trim();
      const detail =
        column.kind === 'time'
          ? this.#time(cell, column.scale, series)
          : this.#value(cell, i, column, lineOf(i));
      const place = this.#places[i];
      if (detail !== null) {
        return csvError(lineOf(i), place?.column ?? i + 1, place?.name ?? null, detail);
      }
    }
    return null;
  }

  /**
   * The table of all rows taken.
   *
   * @param cut the line that was cut off and is missing from them; null where none is
   */
  end(cut: number | null): Result<CsvTable, CsvError> {
    if (this.#times.length === 0) {
      return fail(csvError(2, null, null, 'there is no row under the header'));
    }
    const note = `line ${cut}: the last line was cut off and is left out; all above it is read`;
    const table = this.#table([...(cut === null ? [] : [note]), ...this.#rangeNotes()]);
    const notes = [...table.notes, ...this.#unitNotes(table), ...paceNotes(table)];
    return ok({ ...table, notes });
  }

  #time(cell: string, scale: number | null, series: number): string | null {
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
    const latest = this.#latest.get(series) ?? -Infinity;
    if (t < latest - LATEST_S) {
      const hint =
        this.#zoned === false ? 'where the clock was changed, write the zone; else ' : '';
      return `the time goes back by more than ${LATEST_S} s: ${t} s after ${latest} s; ${hint}sort the rows by time, or give each session a file of its own`;
    }
    if (t < latest) this.#reordered += 1;
    this.#latest.set(series, Math.max(latest, t));
    this.#isInOrder &&= t >= this.#before;
    this.#before = t;
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
    if (isNoValue(cell)) {
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

  #rangeNotes(): string[] {
    return this.#columns.flatMap((column, i) => {
      const found = this.#outOfRange.get(i);
      if (found === undefined || column.kind === 'time') return [];
      const place = {
        column: this.#places[i]?.column ?? i + 1,
        rows: this.#times.length,
        atmosphere_Pa: this.#atmosphere,
      };
      return [outOfRangeNote(found, column, place)];
    });
  }

  #unitNotes(table: CsvTable): string[] {
    const channels = this.#columns.flatMap((column, i) =>
      column.kind === 'time' ? [] : [{ column, at: i }],
    );
    return channels.flatMap(({ column, at }, i) => {
      if (this.#outOfRange.has(at)) return [];
      const note = unlikelyUnitNote(table.values[i] ?? new Float64Array(), column, {
        column: this.#places[at]?.column ?? at + 1,
        atmosphere_Pa: this.#atmosphere,
      });
      return note === null ? [] : [note];
    });
  }

  #table(notes: readonly string[]): CsvTable {
    const order = this.#isInOrder ? null : inOrder(this.#times.numbers());
    const sorted = (column: GrowingColumn): Float64Array => {
      const list = column.numbers();
      return order === null ? list.slice() : Float64Array.from(order, (i) => list[i] ?? NaN);
    };
    const columns = this.#columns.flatMap((column, i) =>
      column.kind === 'time' ? [] : [{ ...column, list: this.#values[i] ?? new GrowingColumn() }],
    );
    const rows = { times: sorted(this.#times), values: columns.map(({ list }) => sorted(list)) };
    const { times, values } = this.#latest.size > 1 ? joinRows(rows) : rows;
    // A row that stood later may be the earliest of an ISO table, whose times begin at 0.
    const early = this.#originMs === null ? 0 : (times[0] ?? 0);
    return {
      channels: columns.map(({ channel }) => channel),
      gaugeChannels: columns.filter(({ unit }) => isGauge(unit)).map(({ channel }) => channel),
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
