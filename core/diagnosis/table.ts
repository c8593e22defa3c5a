import { fail, ok, type Result } from '../result.ts';

/** A printed table of two entries: rows and columns in the printed unit, NaN for a dash. */
export interface PrintedTable {
  readonly rows: readonly number[];
  readonly columns: readonly number[];
  readonly cells: readonly (readonly number[])[];
}

/** A value between the printed cells, with its slopes there (per unit of row and of column). */
export interface Interpolated {
  readonly value: number;
  readonly perRow: number;
  readonly perColumn: number;
}

/** Why a table gives nothing: the entry is outside its print, or stands on a dash. */
export type TableRefusal =
  | {
      readonly code: 'OUTSIDE_TABLE';
      readonly axis: 'row' | 'column';
      readonly value: number;
      readonly min: number;
      readonly max: number;
    }
  | { readonly code: 'IN_THE_DASHES'; readonly row: number; readonly column: number };

/**
 * Reads a table as printed: a heading line of columns, then lines of a row entry and its cells.
 *
 * @throws Error where a line has another number of cells than the heading
 */
export function parseTable(text: string): PrintedTable {
  const lines = text
    .trim()
    .split('\n')
    .map((line) => line.trim().split(/\s+/));
  const [heading, ...body] = lines;
  if (heading === undefined) throw new Error('a table without a heading');
  const columns = heading.map(Number);
  const rows: number[] = [];
  const cells: number[][] = [];
  for (const [entry, ...row] of body) {
    if (row.length !== columns.length) throw new Error(`row ${entry}: ${row.length} cells`);
    rows.push(Number(entry));
    cells.push(row.map((cell) => (cell === '-' ? NaN : Number(cell))));
  }
  return { rows, columns, cells };
}

/** Index i with axis[i] <= x <= axis[i + 1]; the last interval takes its end. */
function interval(axis: readonly number[], x: number): number {
  let i = 0;
  while (i < axis.length - 2 && x >= (axis[i + 1] ?? Infinity)) i += 1;
  return i;
}

/** Weight under which a neighbouring cell plays no part: an entry on a printed line, rounding aside. */
const NEGLIGIBLE = 1e-9;

/**
 * Bilinear interpolation inside the print. A cell that takes part with a weight must be a number:
 * between a number and a dash there is no target. Never an extrapolation.
 *
 * @param row entry in the unit of the rows
 * @param column entry in the unit of the columns
 */
export function lookUp(
  table: PrintedTable,
  row: number,
  column: number,
): Result<Interpolated, TableRefusal> {
  const axes = [
    ['row', row, table.rows],
    ['column', column, table.columns],
  ] as const;
  for (const [axis, value, entries] of axes) {
    const min = entries[0] ?? NaN;
    const max = entries.at(-1) ?? NaN;
    if (!(value >= min && value <= max)) {
      return fail({ code: 'OUTSIDE_TABLE', axis, value, min, max });
    }
  }
  const i = interval(table.rows, row);
  const j = interval(table.columns, column);
  const cell = (a: number, b: number): number => table.cells[i + a]?.[j + b] ?? NaN;
  const height = (table.rows[i + 1] ?? NaN) - (table.rows[i] ?? NaN);
  const width = (table.columns[j + 1] ?? NaN) - (table.columns[j] ?? NaN);
  const r = (row - (table.rows[i] ?? NaN)) / height;
  const c = (column - (table.columns[j] ?? NaN)) / width;
  let value = 0;
  for (const a of [0, 1]) {
    for (const b of [0, 1]) {
      const weight = (a === 1 ? r : 1 - r) * (b === 1 ? c : 1 - c);
      if (weight > NEGLIGIBLE) value += weight * cell(a, b);
    }
  }
  if (Number.isNaN(value)) return fail({ code: 'IN_THE_DASHES', row, column });
  const mean = (x: number, y: number): number =>
    Number.isNaN(x) ? y : Number.isNaN(y) ? x : (x + y) / 2;
  const perRow = mean(cell(1, 0) - cell(0, 0), cell(1, 1) - cell(0, 1)) / height;
  const perColumn = mean(cell(0, 1) - cell(0, 0), cell(1, 1) - cell(1, 0)) / width;
  return ok({
    value,
    perRow: Number.isNaN(perRow) ? 0 : perRow,
    perColumn: Number.isNaN(perColumn) ? 0 : perColumn,
  });
}
