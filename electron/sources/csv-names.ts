import { CHANNEL_KEYS, channelRow, type ChannelKey } from '../../core/stream/channels.ts';
import {
  UNIT_SYMBOLS,
  unitFits,
  type Quantity,
  type UnitSymbol,
} from '../../core/units/symbols.ts';

/**
 * How people and spreadsheets spell the columns of a table. Only what can mean one thing is taken: a
 * channel by its key or its label, in any case and with any blanks; a unit in square or round brackets.
 */

/** Signs for one of our unit symbols that mean nothing else for the quantity they fit. */
const SIGNS: Readonly<Partial<Record<string, UnitSymbol>>> = {
  '%': 'percent',
  '%rh': 'percent',
  // The degree sign, and the ordinal that looks like it.
  '°f': 'degF',
  '°c': 'degC',
  ºf: 'degF',
  ºc: 'degC',
  f: 'degF',
  c: 'degC',
};

/** Seconds in the units a time column can be in. */
export const SECONDS_IN: Readonly<Partial<Record<string, number>>> = {
  s: 1,
  sec: 1,
  min: 60,
  ms: 0.001,
};

/** Without case, blanks, underscores and hyphens. */
const bare = (text: string): string => text.toLowerCase().replace(/[\s_-]/g, '');

const CHANNEL_BY_NAME: ReadonlyMap<string, ChannelKey> = new Map(
  CHANNEL_KEYS.flatMap((key) => [
    [bare(key), key],
    [bare(channelRow(key).label), key],
  ]),
);

/** The name of a column, and its unit in brackets; null where no brackets are there. */
export function splitName(name: string): { readonly words: string; readonly unit: string | null } {
  const [, words, square, round] = /^(.*?)\s*(?:\[([^\]]*)\]|\(([^)]*)\))$/.exec(name) ?? [];
  return words === undefined
    ? { words: name, unit: null }
    : { words, unit: (square ?? round ?? '').trim() };
}

/** Whether a column of this name holds the time. */
export function isTimeName(words: string): boolean {
  return ['time', 'timestamp'].includes(bare(words));
}

/** The channel of a name; null where there is none. */
export function channelOf(words: string): ChannelKey | null {
  return CHANNEL_BY_NAME.get(bare(words)) ?? null;
}

/** The unit symbol that is meant for a quantity; null where none or more than one could be. */
export function unitOf(written: string, quantity: Quantity): UnitSymbol | null {
  const small = written.replace(/\s/g, '').toLowerCase();
  const symbols = (Object.keys(UNIT_SYMBOLS) as UnitSymbol[]).filter(
    (symbol) =>
      (symbol.toLowerCase() === small || symbol === SIGNS[small]) && unitFits(symbol, quantity),
  );
  return symbols.length === 1 ? (symbols[0] ?? null) : null;
}
