import { fail, type Result } from '../../core/result.ts';
import { csvError, parseHeader, type CsvError } from './csv-header.ts';
import { isLong, readLong } from './csv-long.ts';
import { headerCells } from './csv-rows.ts';
import type { CsvTable } from './csv-table.ts';
import { readWide } from './csv-wide.ts';
import { withoutCutLine } from './cut-line.ts';

type Separator = ';' | '\t' | ',';

/** The separator of a table, from its header: semicolon, tab or comma. */
function separatorOf(header: string): Separator {
  const bare = header.replace(/"[^"]*"/g, '');
  if (bare.includes(';')) return ';';
  return bare.includes('\t') ? '\t' : ',';
}

/**
 * Reads a table of logged channels: a column for each channel, or a row for each reading
 * (csv-long.ts). Accepted: comma, semicolon or tab; quoted cells; CRLF; a byte order mark; a decimal comma
 * where commas do not separate cells; empty cells (or NaN, N/A, --), which are gaps where the channel is
 * silent for long; empty cells behind the last column; rows up to a minute late, which are put in the order
 * of their time; a last line cut off, which is left out and told in the notes. Anything else is an error
 * with its line and column, and nothing is read by halves.
 *
 * @param text the whole file
 * @param atmosphere_Pa local atmosphere that makes gauge columns absolute, Pa
 */
export function parseCsv(text: string, atmosphere_Pa: number): Result<CsvTable, CsvError> {
  const bare = text.startsWith('\uFEFF') ? text.slice(1) : text;
  // Bytes that are no UTF-8 were decoded to the replacement character: Latin-1, most often.
  if (bare.includes('\0') || bare.includes('\uFFFD')) {
    const detail = 'this is not text in UTF-8 or UTF-16; save the table as CSV in UTF-8';
    return fail(csvError(1, null, null, detail));
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
  const options = { separator, commaIsDecimal: separator !== ',', atmosphere: atmosphere_Pa };
  const whole = withoutCutLine(bare, separator);
  const form = isLong(headerCells(firstLine, separator)) ? readLong : readWide;
  return form({ ...options, text: whole, isCut: whole !== bare });
}

/** Lines above the header that loggers write: site, date, serial number. */
const MOST_ABOVE = 30;

/** The line of a header that does not stand in the first line; null where it does or there is none. */
function headerBelow(text: string, first: Separator): number | null {
  const lines = text.slice(0, 1 << 14).split(/\r\n|\r|\n/, MOST_ABOVE);
  const isHeader = (line: string, separator: Separator): boolean => {
    const cells = headerCells(line, separator);
    return isLong(cells) || parseHeader(cells, 1).ok;
  };
  if (isHeader(lines[0] ?? '', first)) return null;
  const at = lines.findIndex((line) => line !== '' && isHeader(line, separatorOf(line)));
  return at === -1 ? null : at + 1;
}
