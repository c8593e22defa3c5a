import type { Reading } from '../../core/circuit/types.ts';
import type { Target } from '../../core/diagnosis/types.ts';
import { differenceNumber, differenceText, fixed, type UnitSystem } from '../app/format.ts';

/** A target as it stands beside a figure: a value, or a range where no value is named. */
export function targetLabel(target: Pick<Target, 'value' | 'low' | 'high'>, system: UnitSystem) {
  if (target.value !== null) return `target ${differenceText(target.value, system)}`;
  const low = fixed(differenceNumber(target.low, system), 0);
  return `range ${low} to ${differenceText(target.high, system, 0)}`;
}

/**
 * A reading against its target, in words. Nothing is said to be off the target while the reading's
 * own uncertainty (k = 2) still covers it.
 */
export function againstTarget(
  reading: Pick<Reading, 'value' | 'u'>,
  target: Pick<Target, 'value' | 'low' | 'high'>,
  system: UnitSystem,
): string {
  if (target.value === null) return againstRange(reading, target, system);
  const off = reading.value - target.value;
  const size = differenceText(Math.abs(off), system);
  const side = off > 0 ? 'above' : 'below';
  return Math.abs(off) <= reading.u ? `${size} ${side}, within its ±` : `${size} ${side} target`;
}

function againstRange(
  reading: Pick<Reading, 'value' | 'u'>,
  range: Pick<Target, 'low' | 'high'>,
  system: UnitSystem,
): string {
  const off =
    reading.value > range.high
      ? reading.value - range.high
      : reading.value < range.low
        ? reading.value - range.low
        : 0;
  if (off === 0) return 'inside the range';
  const text = `${differenceText(Math.abs(off), system)} ${off > 0 ? 'above' : 'below'} the range`;
  return Math.abs(off) <= reading.u ? `${text}, within its ±` : text;
}
