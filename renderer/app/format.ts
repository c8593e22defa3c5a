import { figureRow, figureTold } from '../../core/circuit/figures.ts';
import type { ChannelReading, FigureKey, Mode, Reading } from '../../core/circuit/types.ts';
import { channelRow, type ChannelKey } from '../../core/stream/channels.ts';
import { fromSI, toSI, type Quantity, type UnitSymbol } from '../../core/units/symbols.ts';
import type { UnitSystem } from '../../core/units/systems.ts';

export type { UnitSystem };

interface Shown {
  readonly symbol: UnitSymbol;
  readonly text: string;
}

const METRIC: Record<Exclude<Quantity, 'pressure'>, Shown> = {
  temperature: { symbol: 'degC', text: '°C' },
  humidity: { symbol: 'percent', text: '%' },
  current: { symbol: 'A', text: 'A' },
  voltage: { symbol: 'V', text: 'V' },
  vacuum: { symbol: 'Pa', text: 'Pa' },
  mass: { symbol: 'kg', text: 'kg' },
};
const SHOWN: Record<UnitSystem, Record<Quantity, Shown>> = {
  us: {
    pressure: { symbol: 'psig', text: 'psig' },
    temperature: { symbol: 'degF', text: '°F' },
    humidity: { symbol: 'percent', text: '%' },
    current: { symbol: 'A', text: 'A' },
    voltage: { symbol: 'V', text: 'V' },
    vacuum: { symbol: 'micron', text: 'micron' },
    mass: { symbol: 'lb', text: 'lb' },
  },
  si: { pressure: { symbol: 'kPag', text: 'kPag' }, ...METRIC },
  bar: { pressure: { symbol: 'barg', text: 'barg' }, ...METRIC },
};
/** Decimals of a gauge pressure: each about the finest that a gauge resolves. */
const PRESSURE_DECIMALS: Record<UnitSystem, number> = { us: 1, si: 0, bar: 2 };
const BAROMETER: Record<UnitSystem, Shown> = {
  us: { symbol: 'psia', text: 'psia' },
  si: { symbol: 'kPa', text: 'kPa abs' },
  bar: { symbol: 'bar', text: 'bar abs' },
};
/** Units of a difference of gauge pressures. */
const PRESSURE_DIFFERENCE: Record<UnitSystem, string> = { us: 'psi', si: 'kPa', bar: 'bar' };
const MINUS = '−';

/** How a channel is shown: its unit symbol for conversion and the text of the unit. */
export function channelUnit(key: ChannelKey, system: UnitSystem): Shown {
  if (key === 'barometricPressure') return BAROMETER[system];
  return SHOWN[system][channelRow(key).quantity];
}

/** The unit of a difference on a channel: of a correction, a tolerance or a half-width. */
export function channelDifferenceUnit(key: ChannelKey, system: UnitSystem): string {
  const { quantity } = channelRow(key);
  if (quantity === 'temperature') return differenceUnit(system);
  return quantity === 'pressure' ? PRESSURE_DIFFERENCE[system] : channelUnit(key, system).text;
}

/** Decimals of a channel: those of the channel table, of a gauge pressure those of its unit. */
export function channelDecimals(key: ChannelKey, system: UnitSystem): number {
  const row = channelRow(key);
  if (key === 'barometricPressure') return system === 'bar' ? row.decimals + 1 : row.decimals;
  return row.quantity === 'pressure' ? PRESSURE_DECIMALS[system] : row.decimals;
}

/** A channel's value as shown, from SI. `atmosphere` in Pa turns absolute into gauge pressure. */
export function channelNumber(
  key: ChannelKey,
  si: number,
  system: UnitSystem,
  atmosphere: number,
): number {
  return fromSI(si, channelUnit(key, system).symbol, atmosphere);
}

/** SI from a channel's value as shown. */
export function channelSI(
  key: ChannelKey,
  shown: number,
  system: UnitSystem,
  atmosphere: number,
): number {
  return toSI(shown, channelUnit(key, system).symbol, atmosphere);
}

/** A channel's value in words, with its unit. */
export function channelText(
  key: ChannelKey,
  si: number,
  system: UnitSystem,
  atmosphere: number,
): string {
  const value = fixed(channelNumber(key, si, system, atmosphere), channelDecimals(key, system));
  return `${value} ${channelUnit(key, system).text}`;
}

/** A number with fixed decimals, a true minus sign, and no negative zero. */
export function fixed(value: number, decimals: number): string {
  const text = Math.abs(value).toFixed(decimals);
  return value < 0 && Number(text) !== 0 ? `${MINUS}${text}` : text;
}

/** A difference of temperatures (K) as shown: a number in °F or K. */
export function differenceNumber(kelvin: number, system: UnitSystem): number {
  return system === 'us' ? kelvin * 1.8 : kelvin;
}

/** K from a difference as shown. */
export function differenceSI(shown: number, system: UnitSystem): number {
  return system === 'us' ? shown / 1.8 : shown;
}

/** The unit of a difference of temperatures. */
export function differenceUnit(system: UnitSystem): string {
  return system === 'us' ? '°F' : 'K';
}

/** A difference of temperatures (K) in words: `11.8 °F`. */
export function differenceText(kelvin: number, system: UnitSystem, decimals = 1): string {
  return `${fixed(differenceNumber(kelvin, system), decimals)} ${differenceUnit(system)}`;
}

/** A temperature (K) in words: `38.2 °F`. */
export function temperatureText(kelvin: number, system: UnitSystem): string {
  const value = fromSI(kelvin, SHOWN[system].temperature.symbol, 0);
  return `${fixed(value, 1)} ${SHOWN[system].temperature.text}`;
}

/** Seconds as a clock: `4:05`, `1:04:05`. */
export function clockText(seconds: number): string {
  const total = Math.max(0, Math.floor(seconds));
  const h = Math.floor(total / 3600);
  const m = Math.floor((total % 3600) / 60);
  const pad = (n: number) => String(n).padStart(2, '0');
  return h > 0 ? `${h}:${pad(m)}:${pad(total % 60)}` : `${m}:${pad(total % 60)}`;
}

/** A mark of a time axis: a clock below an hour, then hours with what is over: `5:00`, `2 h`, `2 h 30`. */
export function timeMark(seconds: number): string {
  if (seconds < 3600) return clockText(seconds);
  const minutes = Math.floor((seconds % 3600) / 60);
  const hours = `${Math.floor(seconds / 3600)} h`;
  return minutes === 0 ? hours : `${hours} ${String(minutes).padStart(2, '0')}`;
}

/** A length of time in a word or two: `40 s`, `6 min`, `2 h 05`. */
export function durationText(seconds: number): string {
  if (seconds < 90) return `${Math.max(0, Math.round(seconds))} s`;
  const minutes = Math.round(seconds / 60);
  if (minutes < 90) return `${minutes} min`;
  return `${Math.floor(minutes / 60)} h ${String(minutes % 60).padStart(2, '0')}`;
}

/** An ISO time as local date and minute, for lists. */
export function dateText(iso: string): string {
  const date = new Date(iso);
  if (Number.isNaN(date.getTime())) return iso;
  return date.toLocaleString(undefined, {
    year: 'numeric',
    month: 'short',
    day: '2-digit',
    hour: '2-digit',
    minute: '2-digit',
  });
}

/** A figure's value as told in a mode: in °F, °C or K with its unit, or a pure number. */
export function figureValueText(
  key: FigureKey,
  value: number,
  mode: Mode,
  system: UnitSystem,
): string {
  const { kind } = figureRow(key);
  const told = figureTold(key, mode).sign * value;
  if (kind === 'ratio') return fixed(told, 2);
  return kind === 'temperature' ? temperatureText(told, system) : differenceText(told, system);
}

/** A figure with its expanded uncertainty: `11.8 °F ± 2.4`. */
export function figureText(
  key: FigureKey,
  reading: Pick<Reading, 'value' | 'u'>,
  mode: Mode,
  system: UnitSystem,
): string {
  const half =
    figureRow(key).kind === 'ratio'
      ? fixed(reading.u, 2)
      : fixed(differenceNumber(reading.u, system), 1);
  return `${figureValueText(key, reading.value, mode, system)} ± ${half}`;
}

/** A channel's average with its expanded uncertainty, in the channel's unit. */
export function channelReadingText(
  reading: ChannelReading,
  system: UnitSystem,
  atmosphere: number,
): string {
  const { channel, value, u } = reading;
  const shown = channelNumber(channel, value + u, system, atmosphere);
  const half = Math.abs(shown - channelNumber(channel, value, system, atmosphere));
  const text = channelText(channel, value, system, atmosphere);
  return `${text} ± ${fixed(half, Math.max(1, channelDecimals(channel, system)))}`;
}
