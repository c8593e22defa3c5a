import { freshChannel } from '../diagnosis/conditions.ts';
import type { Uncertain } from '../diagnosis/types.ts';
import type { EngineConfig, SnapshotContent } from '../engine-types.ts';
import type { Result } from '../result.ts';
import { standing, type Standing, type StandingRefusal } from './standing.ts';

/** How fast the two pressures of a unit that is off still move, Pa/s with k = 2; null too early. */
export interface StandingRates {
  readonly low: Uncertain | null;
  readonly high: Uncertain | null;
}

/**
 * The standing check on the readings of a unit that is off: its two pressures against the outdoor and
 * the return air, each as far as it is fresh.
 *
 * @param offFor seconds since the compressor stopped; null where the stop was not seen
 */
export function standingOfContent(
  content: SnapshotContent,
  config: Pick<EngineConfig, 'refrigerant'>,
  rates: StandingRates,
  offFor: number | null,
): Result<Standing, StandingRefusal> {
  return standing({
    refrigerant: config.refrigerant,
    running: false,
    low: freshChannel(content, 'suctionPressure'),
    high: freshChannel(content, 'liquidPressure') ?? freshChannel(content, 'dischargePressure'),
    lowRate: rates.low,
    highRate: rates.high,
    surroundings: (['outdoorAirTemp', 'returnAirTemp'] as const)
      .map((key) => freshChannel(content, key))
      .filter((t) => t !== null),
    offFor,
  });
}
