import type { Reading } from '../../core/circuit/types.ts';
import { differenceText, type UnitSystem } from '../app/format.ts';

/**
 * A reading against its nameplate target, in words. Nothing is said to be off the target while the
 * reading's own uncertainty (k = 2) still covers it.
 */
export function againstTarget(reading: Reading, target: number, system: UnitSystem): string {
  const off = reading.value - target;
  const size = differenceText(Math.abs(off), system);
  const side = off > 0 ? 'above' : 'below';
  return Math.abs(off) <= reading.u
    ? `${size} ${side}, covered by its ±`
    : `${size} ${side} target`;
}
