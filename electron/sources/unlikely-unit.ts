import type { ChannelKey } from '../../core/stream/channels.ts';
import { channelRow } from '../../core/stream/channels.ts';
import { FREEZING_K as C } from '../../core/units/temperature.ts';
import { fromSI, toSI, UNIT_SYMBOLS, unitFits, type UnitSymbol } from '../../core/units/symbols.ts';
import type { CsvColumn } from './csv-header.ts';

/**
 * What a split system shows on most of its days, running or standing, SI. Wide; common practice, no
 * source. Out of it is nothing wrong by itself: it counts where the same number in another unit is in it.
 */
const USUAL: Readonly<Partial<Record<ChannelKey, readonly [number, number]>>> = {
  suctionPressure: [1.2e5, 4e6],
  liquidPressure: [3.5e5, 4.5e6],
  dischargePressure: [3.5e5, 4.5e6],
  suctionLineTemp: [C - 30, C + 45],
  liquidLineTemp: [C, C + 65],
  dischargeLineTemp: [C + 20, C + 150],
  outdoorAirTemp: [C - 30, C + 50],
  returnAirTemp: [C + 5, C + 45],
  returnAirWetBulb: [C, C + 35],
  returnAirHumidity: [0.1, 1],
  supplyAirTemp: [C, C + 60],
};

/** Of a large table about so many rows are looked at. */
const LOOKED_AT = 10_000;

/** The middle one of the values that are there; null where none is. */
function median(values: Float64Array): number | null {
  const stride = Math.ceil(values.length / LOOKED_AT);
  const there = values.filter((value, row) => row % stride === 0 && !Number.isNaN(value)).sort();
  return there[Math.floor(there.length / 2)] ?? null;
}

/**
 * What is said of a column whose middle value is unusual in the unit of its header and usual in
 * another one; null where nothing is. The values are kept as they are: a person decides.
 *
 * @param values SI, NaN where the cell is empty
 */
export function unlikelyUnitNote(
  values: Float64Array,
  { channel, unit }: CsvColumn & { kind: 'channel' },
  place: { readonly column: number; readonly atmosphere_Pa: number },
): string | null {
  const usual = USUAL[channel];
  const middle = median(values);
  if (usual === undefined || middle === null) return null;
  const isUsual = (si: number): boolean => si >= usual[0] && si <= usual[1];
  if (isUsual(middle)) return null;
  const written = fromSI(middle, unit, place.atmosphere_Pa);
  const others = (Object.keys(UNIT_SYMBOLS) as UnitSymbol[]).filter(
    (other) =>
      unitFits(other, channelRow(channel).quantity) &&
      isUsual(toSI(written, other, place.atmosphere_Pa)),
  );
  if (others.length === 0) return null;
  const where = `column ${place.column} (${channel}[${unit}])`;
  return `${where}: the middle value is ${Number(written.toPrecision(3))} ${unit}, which is unusual; in ${others.join(' or ')} it would be usual: check its unit`;
}
