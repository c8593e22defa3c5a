/** Why a row does not fit its header, and what to do about it. */
export function rowLengthText(
  row: readonly string[],
  columns: number,
  commaIsDecimal: boolean,
): string {
  const detail = `the row has ${row.length} cells, the header ${columns}`;
  if (row[0]?.trim().startsWith('#') === true) return `${detail}; remove comment lines`;
  if (row.length < columns) {
    return `${detail}; write every cell, empty where there is no value, or remove the row`;
  }
  return commaIsDecimal
    ? `${detail}; remove what is too much`
    : `${detail}; with decimal commas, separate the cells by semicolons or write points instead`;
}
