import { channelRow, CHANNEL_KEYS, type ChannelKey } from '../../core/stream/channels.ts';
import type { QuantityKey } from '../../core/steadiness/types.ts';

/** How a line is drawn: colour by the side of the circuit, told apart by dash and width. */
export interface LineStyle {
  readonly color: string;
  readonly width: number;
  readonly dash: string | undefined;
}

const SIDE_COLOR = {
  low: 'var(--low)',
  high: 'var(--high)',
  air: 'var(--air)',
  electric: 'var(--ink)',
  test: 'var(--ink)',
} as const;
const DASHES = [undefined, '7 3', '2 3', '9 3 2 3', '1 5'] as const;

/** The style of a channel's line: within a side and quantity each gets its own dash. */
export function channelStyle(key: ChannelKey): LineStyle {
  const row = channelRow(key);
  const kin = CHANNEL_KEYS.filter((k) => {
    const other = channelRow(k);
    return other.side === row.side && other.quantity === row.quantity;
  });
  return {
    color: SIDE_COLOR[row.side],
    width: 2.25,
    dash: DASHES[kin.indexOf(key) % DASHES.length],
  };
}

const QUANTITY_STYLE: Record<QuantityKey, LineStyle> = {
  suctionSaturation: { color: 'var(--low)', width: 2, dash: '7 4' },
  liquidSaturation: { color: 'var(--high)', width: 2, dash: '7 4' },
  superheat: { color: 'var(--low)', width: 3, dash: undefined },
  subcooling: { color: 'var(--high)', width: 3, dash: undefined },
  airDrop: { color: 'var(--air)', width: 2.5, dash: '2 3' },
};

/** The style of a judged quantity's line. */
export function quantityStyle(key: QuantityKey): LineStyle {
  return QUANTITY_STYLE[key];
}
