import { FIGURE_KEYS, figureRow } from '../circuit/figures.ts';
import { channelReading, figureReading, type ReadingContext } from '../circuit/readings.ts';
import type { FigureKey, Reading } from '../circuit/types.ts';
import { meansStanding, stateMarks } from '../circuit/content.ts';
import type { EngineConfig, EngineState, SnapshotContent } from '../engine-types.ts';
import { refrigerant } from '../refrigerant/refrigerants.ts';
import { unitStands } from '../steadiness/rest.ts';
import { CHANNEL_KEYS } from '../stream/channels.ts';

/**
 * The content of a snapshot as it would stand now, from the state the screen has: the figures are
 * those of the engine's window, the channels their latest values with the uncertainty of their
 * sensors. For judging while watching; what goes into the record is the engine's own snapshot.
 *
 * @returns null before there is anything to read
 */
export function liveContent(state: EngineState, config: EngineConfig): SnapshotContent | null {
  if (state.t === null) return null;
  const { steadiness } = state;
  const window = steadiness.window ?? { from: state.t, to: state.t };
  const values = (key: (typeof CHANNEL_KEYS)[number]): number => state.channels[key]?.value ?? NaN;
  const barometer = state.channels.barometricPressure?.value ?? null;
  const context = {
    refrigerant: refrigerant(config.refrigerant),
    config,
    atmosphere:
      barometer === null ? config.atmosphere : { pressure: barometer, kind: 'measured' as const },
    window,
    means: values,
    marks: stateMarks(steadiness),
  };
  const channels = CHANNEL_KEYS.flatMap((key) => {
    const view = state.channels[key];
    if (view === undefined || view.value === null) return [];
    const average = { mean: view.value, n: 1, uStat: NaN, blocks: 1 };
    const reading = channelReading(key, average, context);
    return [view.stale ? { ...reading, marks: [...reading.marks, 'stale' as const] } : reading];
  });
  return {
    window,
    state: steadiness.state,
    reason: steadiness.reason,
    figures: config.marks.includes('typedByHand') ? typedFigures(state, context) : state.figures,
    channels,
    counts: state.counts,
    ...(state.movedAlone.length === 0 ? {} : { movedAlone: state.movedAlone }),
  };
}

/**
 * Figures straight from typed values: they come one by one and seldom, so the engine's window may
 * hold none of them together. One of the engine's own is kept where it has it.
 */
function typedFigures(
  state: EngineState,
  context: ReadingContext,
): Partial<Record<FigureKey, Reading>> {
  const figures: Partial<Record<FigureKey, Reading>> = { ...state.figures };
  const standing = unitStands(state.steadiness);
  for (const key of FIGURE_KEYS) {
    if (standing && !meansStanding(key)) continue;
    const mean = figureRow(key).compute(context.means, context.refrigerant);
    if (figures[key] !== undefined || Number.isNaN(mean)) continue;
    const reading = figureReading(key, { mean, n: 1, uStat: NaN, blocks: 1 }, context);
    if (reading !== null) figures[key] = reading;
  }
  return figures;
}
