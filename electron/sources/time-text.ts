/**
 * Why a cell is no time and how to write it.
 *
 * @param cell as it stands in the table, short
 * @param scale seconds in the unit of the column; null for ISO 8601 times
 */
export function timeText(cell: string, scale: number | null): string {
  if (/^time/i.test(cell)) {
    return `'${cell}' is a header again: give each session a file of its own`;
  }
  if (scale === null) {
    const detail = `'${cell}' is not an ISO 8601 time (write 2026-01-31T14:05:00)`;
    if (/^\d{1,2}([./-])\d{1,2}\1\d{2,4}\b/.test(cell)) {
      return `${detail}: write the year first, since day and month cannot be told apart`;
    }
    if (/^\d{1,2}:\d{2}/.test(cell)) return `${detail}: write the date before it`;
    return /^\d+(?:[.,]\d+)?$/.test(cell)
      ? `${detail}: for seconds call the column time[s]`
      : detail;
  }
  if (/^\d+(?:[.,]\d*)?$/.test(cell)) {
    return `'${cell}' is too large for a session: where it counts milliseconds call the column time[ms]`;
  }
  const detail = `'${cell}' is not a number of ${scale === 60 ? 'minutes' : scale === 1 ? 'seconds' : 'milliseconds'}`;
  if (/^\d{4}-/.test(cell)) return `${detail}: for dates call the column time`;
  return cell.includes(':')
    ? `${detail}: write one number, or call the column time and write the date too`
    : detail;
}
