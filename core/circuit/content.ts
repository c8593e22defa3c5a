import { CHANNEL_KEYS, type ChannelKey } from '../stream/channels.ts';
import { channelIndex } from '../stream/channel-index.ts';
import type { ColumnAverage } from '../stream/history.ts';
import { meanAtRest } from '../steadiness/rest.ts';
import type { SteadinessGlance } from '../steadiness/types.ts';
import { FIGURE_KEYS } from './figures.ts';
import { channelReading, figureReading, type ReadingContext } from './readings.ts';
import type { ChannelReading, FigureKey, Mark, Reading } from './types.ts';

/** Columns of a frame: the channels in the order of their table, then the figures of theirs. */
export const COLUMN_COUNT = CHANNEL_KEYS.length + FIGURE_KEYS.length;

/** Column of a figure in a frame. */
export function figureColumn(key: FigureKey): number {
  return CHANNEL_KEYS.length + FIGURE_KEYS.indexOf(key);
}

/** Averages of the columns of a frame over one window. */
export type AverageOf = (column: number) => ColumnAverage | null;

/** Figures that mean something while the compressor is off: what needs no flow. */
const STANDING: ReadonlySet<FigureKey> = new Set<FigureKey>([
  'suctionSaturation',
  'liquidSaturation',
  'drierDrop',
]);

/** Whether a figure means something while the compressor is off. */
export function meansStanding(key: FigureKey): boolean {
  return STANDING.has(key);
}

/** What the state says of the worth of a reading taken in it. */
export function stateMarks(said: Pick<SteadinessGlance, 'state' | 'reason'>): readonly Mark[] {
  const rest: readonly Mark[] = meanAtRest(said) ? [] : ['unsettled'];
  return said.state === 'hunting' ? ['hunting', ...rest] : rest;
}

/** Readings of all figures and channels over one window. */
export function readWindow(
  averageOf: AverageOf,
  said: Pick<SteadinessGlance, 'state' | 'reason'>,
  isStale: (channel: ChannelKey) => boolean,
  base: Omit<ReadingContext, 'means' | 'marks'>,
): {
  readonly figures: Partial<Record<FigureKey, Reading>>;
  readonly channels: ChannelReading[];
} {
  const context: ReadingContext = {
    ...base,
    means: (key) => averageOf(channelIndex(key))?.mean ?? NaN,
    marks: stateMarks(said),
  };
  const figures: Partial<Record<FigureKey, Reading>> = {};
  for (const key of FIGURE_KEYS) {
    if (said.state === 'idle' && !meansStanding(key)) continue;
    const average = averageOf(figureColumn(key));
    const reading = average === null ? null : figureReading(key, average, context);
    if (reading !== null) figures[key] = reading;
  }
  const channels: ChannelReading[] = [];
  for (const key of CHANNEL_KEYS) {
    const average = averageOf(channelIndex(key));
    if (average === null) continue;
    const reading = channelReading(key, average, context);
    channels.push(isStale(key) ? { ...reading, marks: [...reading.marks, 'stale'] } : reading);
  }
  return { figures, channels };
}
