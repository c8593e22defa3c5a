import { fail, ok, type Result } from '../result.ts';
import { propagate } from '../circuit/uncertainty.ts';
import type { Uncertain } from './types.ts';

/**
 * The virtual charge estimate of Li & Braun 2009 (HVAC&R Research 15(1):117-136) and Kim & Braun
 * 2010: the deviation of the charge from rated, from the deviations of subcooling and superheat.
 *
 *   (m - m_rated) / m_rated = (1 / k_ch) [ (SC - SC_rated) - (k_sh / k_sc) (SH - SH_rated) ]
 *   k_ch = SC_rated / ((1 - a0) X_hs)
 *
 * with a0 = 0.75 (share of rated charge at which the condenser exit is just saturated), X_hs = 0.73
 * (share of the charge on the high side) and k_sh / k_sc = 1 / 2.5; equation and constants from
 * memory. Tuned to a unit it was found within 10 % of the charge; the default constants hold for
 * units without an accumulator, and not for a variable-speed compressor at low speed.
 */
export interface VirtualCharge {
  /** Deviation of the charge from rated, as a fraction (-0.1 = 10 % low), k = 2. */
  readonly deviation: Uncertain;
}

/** Why there is no estimate. */
export type VirtualChargeRefusal =
  | { readonly code: 'NEEDS_RATED_SUBCOOLING' }
  | { readonly code: 'NEEDS_RATED_SUPERHEAT' }
  | { readonly code: 'NEEDS_BOTH_ABOVE_ZERO' };

const A0 = 0.75;
const X_HIGH_SIDE = 0.73;
const K_RATIO = 1 / 2.5;
/** What the method itself adds, k = 2: within 10 % of the charge when tuned; more untuned. */
const METHOD_U = 0.1;

/**
 * The estimate from a steady reading. Temperatures differences in K, k = 2.
 *
 * @param rated superheat and subcooling at rated charge, K: plate, or what the chart asks now
 */
export function virtualCharge(
  superheat: Uncertain,
  subcooling: Uncertain,
  rated: { readonly superheat: number | null; readonly subcooling: number | null },
): Result<VirtualCharge, VirtualChargeRefusal> {
  if (!(superheat.value > 0 && subcooling.value > 0))
    return fail({ code: 'NEEDS_BOTH_ABOVE_ZERO' });
  if (rated.subcooling === null || !(rated.subcooling > 0)) {
    return fail({ code: 'NEEDS_RATED_SUBCOOLING' });
  }
  if (rated.superheat === null) return fail({ code: 'NEEDS_RATED_SUPERHEAT' });
  const kCharge = rated.subcooling / ((1 - A0) * X_HIGH_SIDE);
  const sc = rated.subcooling;
  const sh = rated.superheat;
  const f = ([x = NaN, y = NaN]: readonly number[]) => (y - sc - K_RATIO * (x - sh)) / kCharge;
  const inputs = [
    { value: superheat.value, u: superheat.u / 2 },
    { value: subcooling.value, u: subcooling.u / 2 },
  ];
  const u = Math.hypot(2 * propagate(f, inputs), METHOD_U);
  return ok({ deviation: { value: f(inputs.map((i) => i.value)), u } });
}
