import { FIGURE_KEYS, figureRow } from '../../core/circuit/figures.ts';
import { channelReading, figureReading } from '../../core/circuit/readings.ts';
import type { FigureKey, Reading } from '../../core/circuit/types.ts';
import type { EngineConfig, SnapshotContent } from '../../core/engine-types.ts';
import { refrigerant } from '../../core/refrigerant/refrigerants.ts';
import type { Reason, SteadinessState } from '../../core/steadiness/types.ts';
import type { ChannelKey } from '../../core/stream/channels.ts';

/** The reason of a stream at rest. */
export const STILL: Reason = {
  code: 'still',
  counted: ['superheat', 'subcooling'],
  confidence: 0.99,
  horizon: 300,
  quantity: 'superheat',
  drift: 0,
  trend: null,
};

/**
 * The content of a snapshot whose channels stand at these values (SI), by the same code that makes
 * real ones; the statistical part of the uncertainty is zero.
 */
export function contentOf(
  values: ReadonlyMap<ChannelKey, number>,
  config: EngineConfig,
  state: SteadinessState,
  reason: Reason = STILL,
): SnapshotContent {
  const fluid = refrigerant(config.refrigerant);
  const window = { from: 1200, to: 1500 };
  const means = (key: ChannelKey): number => values.get(key) ?? NaN;
  const context = {
    refrigerant: fluid,
    config,
    atmosphere: config.atmosphere,
    window,
    means,
    marks: [],
  };
  const average = (mean: number) => ({ mean, n: 300, uStat: 0, blocks: 10 });
  const figures: Partial<Record<FigureKey, Reading>> = {};
  for (const key of FIGURE_KEYS) {
    const value = figureRow(key).compute(means, fluid);
    if (Number.isNaN(value)) continue;
    const reading = figureReading(key, average(value), context);
    if (reading !== null) figures[key] = reading;
  }
  return {
    window,
    state,
    reason,
    figures,
    channels: [...values].map(([key, value]) => channelReading(key, average(value), context)),
    counts: { samples: 1, gaps: 0, late: 0, repeated: 0, implausible: 0 },
  };
}
