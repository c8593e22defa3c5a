import { CHANNEL_KEYS, channelRow, type ChannelKey } from '../../core/stream/channels.ts';
import type { Sample } from '../../core/stream/sample.ts';
import { fromSI, toSI, type Quantity, type UnitSymbol } from '../../core/units/symbols.ts';

/** The units a table can be written in. */
export const TABLE_UNITS = ['us', 'si'] as const;
/** One of {@link TABLE_UNITS}. */
export type TableUnits = (typeof TABLE_UNITS)[number];

/**
 * The unit a quantity is written in. `si` is what is kept inside, so every number reads back to the
 * very same; in customary units some doubles have no text that does, and are off by their last bit.
 */
const WRITTEN: Record<TableUnits, Record<Quantity, UnitSymbol>> = {
  us: {
    pressure: 'psia',
    temperature: 'degF',
    humidity: 'percent',
    current: 'A',
    voltage: 'V',
    vacuum: 'micron',
    mass: 'lb',
  },
  si: {
    pressure: 'Pa',
    temperature: 'K',
    humidity: 'fraction',
    current: 'A',
    voltage: 'V',
    vacuum: 'Pa',
    mass: 'kg',
  },
};

/** Steps of the last place tried to find a text that reads back to the very same number. */
const MAX_STEPS = 8;

const view = new DataView(new ArrayBuffer(8));

/** The number `steps` places after x in the order of doubles (negative: before). */
function nudge(x: number, steps: number): number {
  view.setFloat64(0, x);
  view.setBigInt64(0, view.getBigInt64(0) + BigInt(x >= 0 ? steps : -steps));
  return view.getFloat64(0);
}

/**
 * A value in a unit whose text reads back to the very same SI number where there is one within a
 * few units in the last place, else the nearest.
 */
export function valueInUnit(si: number, unit: UnitSymbol, atmosphere_Pa: number): number {
  const nearest = fromSI(si, unit, atmosphere_Pa);
  for (let step = 0; step <= MAX_STEPS; step += 1) {
    for (const candidate of [nudge(nearest, step), nudge(nearest, -step)]) {
      if (toSI(candidate, unit, atmosphere_Pa) === si) return candidate;
    }
  }
  return nearest;
}

/**
 * Writes samples as a table: one row for each run of equal times, one column a channel in
 * the order of the channel table, gaps and absent values empty. A channel that speaks twice at one time gets a row for each.
 *
 * @param samples in order of time
 * @param gauge which channels are written as gauge pressure in customary units, and the atmosphere
 *   (Pa) between
 * @param units customary, or SI with all pressures absolute
 */
export function writeCsv(
  samples: Iterable<Sample>,
  gauge: { readonly channels: readonly ChannelKey[]; readonly convertedWith: number },
  units: TableUnits = 'us',
): string {
  const rows: { t: number; cells: Map<ChannelKey, string> }[] = [];
  const channels = new Set<ChannelKey>();
  const unitOf = (channel: ChannelKey): UnitSymbol =>
    units === 'us' && gauge.channels.includes(channel)
      ? 'psig'
      : WRITTEN[units][channelRow(channel).quantity];
  for (const sample of samples) {
    channels.add(sample.channel);
    const last = rows.at(-1);
    const text =
      sample.value === null
        ? ''
        : String(valueInUnit(sample.value, unitOf(sample.channel), gauge.convertedWith));
    if (last?.t === sample.t && !last.cells.has(sample.channel)) {
      last.cells.set(sample.channel, text);
    } else {
      rows.push({ t: sample.t, cells: new Map([[sample.channel, text]]) });
    }
  }
  const order = CHANNEL_KEYS.filter((channel) => channels.has(channel));
  const header = ['time[s]', ...order.map((channel) => `${channel}[${unitOf(channel)}]`)];
  const lines = rows.map((row) =>
    [String(row.t), ...order.map((channel) => row.cells.get(channel) ?? '')].join(','),
  );
  return `${[header.join(','), ...lines].join('\n')}\n`;
}
