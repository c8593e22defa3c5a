import type { Reading } from '../../core/circuit/types.ts';
import { differenceText, type UnitSystem } from '../app/format.ts';

/**
 * A reading against its nameplate target, in words. Nothing is said to be off the target while the
 * reading's own uncertainty (k = 2) still covers it.
 */
export function againstTarget(reading: Reading, target: number, system: UnitSystem): string {
  const off = reading.value - target;
  const size = differenceText(Math.abs(off), system);
  if (Math.abs(off) <= reading.u) return `${size} from it, inside ±`;
  return off > 0 ? `${size} above it` : `${size} below it`;
}
