import Papa from 'papaparse';
import { csvError, type CsvError } from './csv-header.ts';

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

/** Whether there is nothing on a line. */
export function isBlank(row: readonly string[]): boolean {
  return row.length === 1 && row[0]?.trim() === '';
}
