import { hasSaturation } from '../refrigerant/range.ts';
import type { Refrigerant } from '../refrigerant/types.ts';
import { evaluate, type Uncertain } from './uncertainty.ts';

/** What the capacity on the refrigerant side is computed from: Pa absolute, K, m3/s, k = 2. */
export interface RefrigerantSide {
  /** Swept volume of the compressor in time, from its maker's data. */
  readonly displacement: number;
  readonly suctionPressure: Uncertain;
  readonly suctionLineTemp: Uncertain;
  readonly highPressure: Uncertain;
  readonly liquidLineTemp: Uncertain;
}

/** Flow and capacity on the refrigerant side, k = 2. */
export interface RefrigerantCapacity {
  /** kg/s */
  readonly massFlow: Uncertain;
  /** Heat taken up between the liquid line and the suction line, W. */
  readonly capacity: Uncertain;
}

/**
 * Volumetric efficiency of a sound hermetic scroll or rotary compressor at the pressure ratios of air
 * conditioning, k = 2: our own estimate from common compressor data. A worn one pumps less, so the
 * figure is what a sound compressor would do at these pressures.
 */
const VOLUMETRIC: Uncertain = { value: 0.93, u: 0.08 };

/**
 * Capacity from the displacement: suction density times swept volume and volumetric efficiency, times
 * the enthalpy difference from the liquid line to the suction line. In heating it is the heat taken
 * from outdoors.
 *
 * @returns null where the suction is not superheated, the liquid not subcooled, or a pressure is
 *   outside the curves: then the enthalpies are not known
 */
export function refrigerantCapacity(
  side: RefrigerantSide,
  refrigerant: Refrigerant,
): RefrigerantCapacity | null {
  const { curves } = refrigerant;
  const { suctionPressure, highPressure } = side;
  if (![suctionPressure, highPressure].every(({ value }) => hasSaturation(refrigerant, value))) {
    return null;
  }
  if (side.suctionLineTemp.value < curves.tDew(side.suctionPressure.value)) return null;
  if (side.liquidLineTemp.value > curves.tBubble(side.highPressure.value)) return null;
  const flowOf = ([pS = NaN, tS = NaN, efficiency = NaN]: readonly number[]): number =>
    side.displacement * efficiency * curves.rhoVapour(pS, Math.max(tS, curves.tDew(pS)));
  const capacityOf = ([
    pS = NaN,
    tS = NaN,
    efficiency = NaN,
    pH = NaN,
    tL = NaN,
  ]: readonly number[]) =>
    flowOf([pS, tS, efficiency]) *
    (curves.hVapour(pS, Math.max(tS, curves.tDew(pS))) -
      curves.hLiquid(pH, Math.min(tL, curves.tBubble(pH))));
  const inputs = [
    side.suctionPressure,
    side.suctionLineTemp,
    VOLUMETRIC,
    side.highPressure,
    side.liquidLineTemp,
  ];
  return { massFlow: evaluate(flowOf, inputs), capacity: evaluate(capacityOf, inputs) };
}
