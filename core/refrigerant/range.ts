import type { Refrigerant } from './types.ts';

/** Whether a pressure (Pa absolute) has saturation in the curves of a refrigerant; NaN has none. */
export function hasSaturation(refrigerant: Refrigerant, p: number): boolean {
  return p >= refrigerant.range.pMin && p <= refrigerant.range.pMax;
}
