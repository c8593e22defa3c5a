/** How the cells of a table are read: numbers, ISO 8601 times, and what stands for no value. */

const NUMBER = /^[-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?$/;
const DECIMAL_COMMA = /^[-+]?(?:\d+,\d*|,\d+)(?:[eE][-+]?\d+)?$/;
/** ISO 8601; the year first is enough to know day and month, so strokes will do as well. */
const ISO =
  /^\d{4}([-/])\d{2}\1\d{2}[T ]\d{2}:\d{2}(?::\d{2}(?:[.,]\d+)?)?(?:Z|[-+]\d{2}(?::?\d{2})?)?$/;
/** What loggers and spreadsheets write where there is no value. */
const NO_VALUE = /^(?:nan|n\/?a|#n\/a|null|none|-+)$/i;

/** Whether a cell says that there is no value. */
export function isNoValue(cell: string): boolean {
  return cell === '' || NO_VALUE.test(cell);
}

/**
 * Reads a number; a decimal comma counts only where commas do not separate cells.
 *
 * @returns NaN where the text is no number
 */
export function readNumber(text: string, commaIsDecimal: boolean): number {
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
export function hasZone(text: string): boolean {
  return /(?:Z|[-+]\d{2}(?::?\d{2})?)$/.test(text.slice(11));
}

/** Milliseconds of an ISO 8601 time; a time without zone is read as UTC. NaN where it is none. */
export function readIso(text: string): number {
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

/** A cell as it is quoted in an error: short, and on one line. */
export function oneLine(cell: string): string {
  const line = cell.replace(/\s+/g, ' ');
  return line.length > 40 ? `${line.slice(0, 40)}…` : line;
}
