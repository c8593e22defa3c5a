/** A table by column: times in order, and the values of each column, NaN where a cell is empty. */
interface Columns {
  readonly times: Float64Array;
  readonly values: readonly Float64Array[];
}

/**
 * Rows of one time become one where no cell is written twice: one channel after the other was written down,
 * and each had its own row. What is written twice stays another row.
 */
export function joinRows({ times, values }: Columns): Columns {
  const joined = values.map((list) => list.slice());
  const kept = times.slice();
  let rows = 0;
  for (const [row, t] of times.entries()) {
    const joins =
      rows > 0 &&
      kept[rows - 1] === t &&
      values.every((list, i) => Number.isNaN(list[row]) || Number.isNaN(joined[i]?.[rows - 1]));
    if (!joins) rows += 1;
    kept[rows - 1] = t;
    values.forEach((list, i) => {
      const value = list[row] ?? NaN;
      const column = joined[i];
      if (column !== undefined && !(joins && Number.isNaN(value))) column[rows - 1] = value;
    });
  }
  return { times: kept.slice(0, rows), values: joined.map((list) => list.slice(0, rows)) };
}
