import { csvErrorText } from '../../electron/sources/csv-header.ts';
import type { CsvTable } from '../../electron/sources/csv-table.ts';
import { parseCsv } from '../../electron/sources/csv.ts';

/** Atmosphere at which the tables of tests are read, Pa. */
export const ATM = 101_325;

/** A table as read. @throws Error with what the reader says where it refuses the text */
export function read(text: string): CsvTable {
  const table = parseCsv(text, ATM);
  if (!table.ok) throw new Error(csvErrorText(table.error));
  return table.value;
}

/** What the reader says of a text that it refuses. @throws Error where it accepts it */
export function refused(text: string): string {
  const table = parseCsv(text, ATM);
  if (table.ok) throw new Error('it was accepted');
  return csvErrorText(table.error);
}
