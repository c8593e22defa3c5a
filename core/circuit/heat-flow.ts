import type { Mode } from './types.ts';

/** Saturation at the two pressures and the two airs, K; NaN where unknown. */
export interface HeatFlowTemperatures {
  readonly suctionSaturation: number;
  readonly liquidSaturation: number;
  readonly outdoorAir: number;
  readonly returnAir: number;
}

/**
 * How far the evaporating side may be under the air it would cool, K: gauge, thermometer and place.
 * A coil that takes up heat at all is further under it.
 */
const UNDER_SOURCE_K = 3;
/** How far the condensing side may be over the air it would heat, K: a cabinet in the sun is warm. */
const OVER_SINK_K = 5;

/**
 * Whether neither coil can move heat: the low side is no colder than the air it would cool and the
 * high side no warmer than the air it would heat. Heat flows from warm to cold only (second law), so
 * a circuit that stands like this does no work, however far a closed valve keeps its pressures apart.
 * The margins are our own; no source.
 *
 * @returns false as well where a temperature is unknown
 */
export function movesNoHeat(mode: Mode, at: HeatFlowTemperatures): boolean {
  const [source, sink] =
    mode === 'cooling' ? [at.returnAir, at.outdoorAir] : [at.outdoorAir, at.returnAir];
  // Whichever hose is on which valve.
  const low = Math.min(at.suctionSaturation, at.liquidSaturation);
  const high = Math.max(at.suctionSaturation, at.liquidSaturation);
  return low >= source - UNDER_SOURCE_K && high <= sink + OVER_SINK_K;
}
