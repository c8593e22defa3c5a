import { normalBelow } from '../steadiness/normal.ts';
import type { Verdict } from '../circuit/types.ts';
import type { Target, Uncertain, VerdictRow } from './types.ts';

/**
 * A reading against the limits of its target. Decided only where the whole interval of k = 2, with
 * the target's own uncertainty in it, lies on one side of the limits; the probabilities are those
 * of a normal distribution about the reading (JCGM 106:2012, clause 7).
 */
export function judgeReading(reading: Uncertain, target: Target): VerdictRow {
  const u = Math.hypot(reading.u, target.u);
  return {
    quantity: target.quantity,
    reading: { value: reading.value, u: reading.u },
    target,
    u,
    verdict: verdictOf(reading.value, u, target.low, target.high),
    probability: probabilities(reading.value, u, target.low, target.high),
  };
}

/** Within, above or below where the interval value ± u does not straddle a limit. */
export function verdictOf(value: number, u: number, low: number, high: number): Verdict {
  if (value - u > high) return 'above';
  if (value + u < low) return 'below';
  return value - u >= low && value + u <= high ? 'within' : 'undecided';
}

function probabilities(value: number, u: number, low: number, high: number) {
  if (!(u > 0)) {
    return {
      below: value < low ? 1 : 0,
      within: value >= low && value <= high ? 1 : 0,
      above: value > high ? 1 : 0,
    };
  }
  const sd = u / 2;
  const below = normalBelow((low - value) / sd);
  const above = 1 - normalBelow((high - value) / sd);
  return { below, within: Math.max(0, 1 - below - above), above };
}
