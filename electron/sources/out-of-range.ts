import { channelRow } from '../../core/stream/channels.ts';
import { fromSI } from '../../core/units/symbols.ts';
import type { CsvColumn } from './csv-header.ts';

/** The first value of a column that no such sensor can mean, and how many there are. */
export interface OutOfRange {
  readonly line: number;
  /** As it is written in the table. */
  readonly cell: string;
  readonly count: number;
}

/** What is said of a column with values out of the range of its channel, in the unit of its header. */
export function outOfRangeNote(
  found: OutOfRange,
  { channel, unit }: CsvColumn & { kind: 'channel' },
  place: { readonly column: number; readonly rows: number; readonly atmosphere_Pa: number },
): string {
  const { min, max } = channelRow(channel);
  const limit = (si: number): string =>
    String(Number(fromSI(si, unit, place.atmosphere_Pa).toPrecision(4)));
  const range = `${limit(min)} to ${limit(max)} ${unit}`;
  const where = `line ${found.line}, column ${place.column} (${channel}[${unit}])`;
  // A wrong unit puts most of a column out of range; a few rows are marks for "no value", or the sensor.
  const look =
    2 * found.count > place.rows
      ? 'check its unit'
      : 'check the sensor, its unit, and what the logger writes where there is no value';
  return `${where}: ${found.cell} ${unit} is out of range (${range}); ${found.count} of ${place.rows} rows are, and count as gaps: ${look}`;
}
