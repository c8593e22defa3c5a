import Papa from 'papaparse';

/**
 * A table without its last line where that line was cut off, as when a logger loses its power: it has
 * no line end and fewer cells than the header, or a quote that never closes. Otherwise the table as it
 * is: a line cut within its last cell cannot be told from a whole one.
 */
export function withoutCutLine(text: string, delimiter: string): string {
  const end = Math.max(text.lastIndexOf('\n'), text.lastIndexOf('\r')) + 1;
  const last = text.slice(end);
  if (end === 0 || last.trim() === '') return text;
  const above = text.slice(0, end);
  // Within quotes the line end belongs to a cell, and the cut is not on this line alone.
  if (quotes(above) % 2 === 1) return text;
  const cells = (line: string): number =>
    Papa.parse<string[]>(line, { delimiter }).data[0]?.length ?? 0;
  const open = quotes(last) % 2 === 1;
  const header = text.slice(0, text.search(/[\r\n]/));
  return open || cells(last) < cells(header) ? above : text;
}

/** Counted, not collected: a large table may quote every cell. */
function quotes(text: string): number {
  let count = 0;
  for (let at = text.indexOf('"'); at !== -1; at = text.indexOf('"', at + 1)) count += 1;
  return count;
}
