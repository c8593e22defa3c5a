import { fail, type Result } from '../../core/result.ts';
import { csvError, parseHeader, withoutEmptyEnd, type CsvError } from './csv-header.ts';
import { TableReader } from './csv-reader.ts';
import { eachRow, isBlank, type CsvText } from './csv-rows.ts';
import type { CsvTable } from './csv-table.ts';
import { rowLengthText } from './row-length.ts';

/** Reads a table that has a column for each channel. */
export function readWide(table: CsvText): Result<CsvTable, CsvError> {
  const { text, separator, commaIsDecimal, atmosphere, isCut } = table;
  let reader: TableReader | null = null;
  let columns = 0;
  const { error, lines } = eachRow(text, separator, (cells, line) => {
    if (reader === null) {
      const names = withoutEmptyEnd(cells, 1);
      const header = parseHeader(names, line);
      if (!header.ok) return header.error;
      columns = header.value.length;
      const places = names.map((name, i) => ({ column: i + 1, name: name.trim() }));
      reader = new TableReader({ columns: header.value, places, commaIsDecimal, atmosphere });
      return null;
    }
    if (isBlank(cells)) return null;
    const row = withoutEmptyEnd(cells, columns);
    if (row.length === columns) return reader.row(row, () => line);
    const detail = rowLengthText(row, columns, commaIsDecimal);
    return csvError(line, Math.min(row.length, columns) + 1, null, detail);
  });
  if (error !== null) return fail(error);
  return end(reader, isCut ? lines : null);
}

/** The table of a reader; there is none where not even a header came. */
function end(reader: TableReader | null, cut: number | null): Result<CsvTable, CsvError> {
  return reader?.end(cut) ?? fail(csvError(1, null, null, 'there is no header'));
}
