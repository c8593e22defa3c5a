import { CHANNEL_KEYS, channelRow, type ChannelKey } from '../stream/channels.ts';
import { FIGURE_KEYS, figureRow } from '../circuit/figures.ts';
import type { FigureKey } from '../circuit/types.ts';
import { freshChannel } from './conditions.ts';
import type { JudgementInput, Uncertain } from './types.ts';

/** One channel or figure of all units, as read: null where a unit has none. SI, k = 2. */
export interface SideRow {
  readonly key: ChannelKey | FigureKey;
  readonly label: string;
  readonly kind: 'channel' | 'figure';
  readonly values: readonly (Uncertain | null)[];
}

/** The readings of several units side by side: a row for everything at least one unit has. */
export function sideBySide(units: readonly { readonly input: JudgementInput }[]): SideRow[] {
  const rows: SideRow[] = [];
  for (const key of FIGURE_KEYS) {
    const values = units.map(({ input }) => plain(input.content.figures[key] ?? null));
    rows.push({ key, label: figureRow(key).label, kind: 'figure', values });
  }
  for (const key of CHANNEL_KEYS) {
    const values = units.map(({ input }) => plain(freshChannel(input.content, key)));
    rows.push({ key, label: channelRow(key).label, kind: 'channel', values });
  }
  return rows.filter((row) => row.values.some((v) => v !== null));
}

function plain(reading: Uncertain | null): Uncertain | null {
  return reading === null ? null : { value: reading.value, u: reading.u };
}
