import { hasSaturation } from '../refrigerant/range.ts';
import type { Refrigerant } from '../refrigerant/types.ts';

/** The state of the gas at the ports of a compressor: Pa absolute, K. */
export interface CompressionPorts {
  readonly suctionPressure: number;
  readonly suctionTemp: number;
  readonly dischargePressure: number;
}

/**
 * Discharge temperature (K) of a compressor of a given overall efficiency: the enthalpy rise of
 * isentropic compression divided by it. Heat lost by the shell and the line is part of that
 * efficiency.
 *
 * @param efficiency isentropic efficiency as seen in the discharge temperature, 0..1
 * @returns NaN where the suction is not superheated, a state is outside the curves, or the discharge is
 *   not between its dew point and 80 K above it
 */
export function dischargeTemperature(
  ports: CompressionPorts,
  efficiency: number,
  refrigerant: Refrigerant,
): number {
  const { curves } = refrigerant;
  const { suctionPressure, suctionTemp, dischargePressure } = ports;
  if (![suctionPressure, dischargePressure].every((p) => hasSaturation(refrigerant, p))) return NaN;
  if (!(suctionTemp >= curves.tDew(suctionPressure))) return NaN;
  if (!(dischargePressure > suctionPressure)) return NaN;
  const hSuction = curves.hVapour(suctionPressure, suctionTemp);
  const sSuction = curves.sVapour(suctionPressure, suctionTemp);
  const isentropic = solve(
    refrigerant,
    dischargePressure,
    (t) => curves.sVapour(dischargePressure, t) - sSuction,
  );
  if (Number.isNaN(isentropic)) return NaN;
  const rise = curves.hVapour(dischargePressure, isentropic) - hSuction;
  const hDischarge = hSuction + rise / efficiency;
  return solve(
    refrigerant,
    dischargePressure,
    (t) => curves.hVapour(dischargePressure, t) - hDischarge,
  );
}

/** Superheat up to which a discharge state is searched, K. */
const SEARCH_K = 80;

/** Zero of a function rising with temperature, from the dew point upward; NaN where it has none. */
function solve(refrigerant: Refrigerant, p: number, f: (t: number) => number): number {
  let low = refrigerant.curves.tDew(p);
  let high = low + SEARCH_K;
  if (f(low) > 0 || f(high) < 0) return NaN;
  while (high - low > 1e-4) {
    const mid = 0.5 * (low + high);
    if (f(mid) > 0) high = mid;
    else low = mid;
  }
  return 0.5 * (low + high);
}
