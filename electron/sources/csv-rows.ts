import Papa from 'papaparse';
import { csvError, withoutEmptyEnd, type CsvError } from './csv-header.ts';

/** A table as text, of which the form is known. */
export interface CsvText {
  readonly text: string;
  readonly separator: string;
  readonly commaIsDecimal: boolean;
  /** Pa. */
  readonly atmosphere: number;
  /** Whether a last line that was cut off is missing from the text. */
  readonly isCut: boolean;
}

/** Characters handed to papaparse at once: all rows of a large table would take twenty times its size. */
const CHUNK = 1 << 18;

/**
 * Gives the rows of a table one after the other, each with its line (rows that go on over a break of line
 * within quotes count as one); stops at the first error.
 *
 * @returns the error, and the last line
 */
export function eachRow(
  text: string,
  delimiter: string,
  take: (row: readonly string[], line: number) => CsvError | null,
): { readonly error: CsvError | null; readonly lines: number } {
  let lines = 0;
  let error: CsvError | null = null;
  Papa.parse<string[]>(text, {
    delimiter,
    skipEmptyLines: false,
    chunkSize: CHUNK,
    step: ({ data, errors: [quoteError] }, parser) => {
      lines += 1;
      error =
        quoteError === undefined
          ? take(data, lines)
          : csvError(lines, null, null, quoteError.message);
      if (error !== null) parser.abort();
    },
  });
  return { error, lines };
}

/** The cells of a header that stands on one line; none where nothing is on it. */
export function headerCells(line: string, delimiter: string): readonly string[] {
  return withoutEmptyEnd(Papa.parse<string[]>(line, { delimiter }).data[0] ?? [], 1);
}

/** Whether there is nothing on a line. */
export function isBlank(row: readonly string[]): boolean {
  return row.length === 1 && row[0]?.trim() === '';
}
