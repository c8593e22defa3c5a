import type { ChannelKey } from '../../core/stream/channels.ts';
import type { Sample } from '../../core/stream/sample.ts';

/** A table of logged channels, read whole: SI, by column. */
export interface CsvTable {
  readonly channels: readonly ChannelKey[];
  /** Channels that were gauge pressure and were made absolute with `atmosphere_Pa`. */
  readonly gaugeChannels: readonly ChannelKey[];
  readonly atmosphere_Pa: number;
  /** Seconds, non-decreasing: as written for time[s], since the earliest row for ISO times. */
  readonly times: Float64Array;
  /** Rows that stood later in the file than their time, and were put in its order. */
  readonly reordered: number;
  /** SI values by channel; NaN where the cell is empty. */
  readonly values: readonly Float64Array[];
  /** By channel, 1 where an empty cell is a gap and not the pause of a slow sensor. */
  readonly gaps: readonly Uint8Array[];
  /** The wall-clock time of t = 0 for ISO times; null for time[s]. */
  readonly origin: string | null;
  /** What was left out or cannot be used, with its place: for the person who gave the table. */
  readonly notes: readonly string[];
}

/** The samples of one row of a table, in the order of its columns; gaps where values are missing. */
export function rowSamples(table: CsvTable, row: number): Sample[] {
  const t = table.times[row] ?? NaN;
  return table.channels.flatMap((channel, i): Sample[] => {
    const value = table.values[i]?.[row] ?? NaN;
    if (!Number.isNaN(value)) return [{ channel, t, value }];
    return table.gaps[i]?.[row] === 1 ? [{ channel, t, value: null, why: 'empty' }] : [];
  });
}
