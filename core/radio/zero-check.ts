import { fail, ok, type Result } from '../result.ts';
import type { PressureReference } from './sensor-value.ts';

/** What the zero check asks of the stream; the numbers are our choice. */
const SPAN_S = 10;
const VALUES = 8;
/** The gauge is still when its values stay within this of their mean (Pa), about 0.15 psi. */
const STILL_PA = 1000;
/**
 * Largest offset that may be a zero error, as a fraction of full scale: more is a gauge that is not
 * open to the air, or a broken one.
 */
const OFFSET_OF_FULL_SCALE = 0.03;
/** The limit where the full scale is not known, and the bounds of it where it is (Pa). */
const OFFSET_DEFAULT_PA = 35_000;
const OFFSET_BOUNDS_PA = [7_000, 70_000] as const;

/** One value as the sensor sent it, Pa. */
export interface ZeroSample {
  readonly t: number;
  readonly value: number;
}

export interface ZeroCheckInput {
  /** As sent, before any earlier offset is taken off; oldest first. Only the end is looked at. */
  readonly samples: readonly ZeroSample[];
  readonly reference: PressureReference;
  /** Null where only the standard atmosphere is assumed: an absolute sensor then has no zero. */
  readonly atmosphere_Pa: number | null;
  readonly fullScale_Pa: number | null;
}

export type ZeroCheckFailure =
  | { readonly code: 'TOO_FEW'; readonly have: number; readonly need: number }
  | { readonly code: 'TOO_SHORT'; readonly have_s: number; readonly need_s: number }
  | { readonly code: 'NOT_STILL'; readonly spread_Pa: number; readonly limit_Pa: number }
  | { readonly code: 'NO_BAROMETER' }
  | { readonly code: 'IMPLAUSIBLE'; readonly offset_Pa: number; readonly limit_Pa: number };

/** The offset to take off every value, with what it rests on. */
export interface ZeroCheck {
  readonly offset_Pa: number;
  readonly spread_Pa: number;
  readonly samples: number;
  readonly span_s: number;
}

/**
 * The zero of a gauge that is open to the air: the mean of still values over at least ten seconds,
 * against zero for a gauge and against the barometer for an absolute sensor. An offset too large to
 * be a zero error is refused: something is still under pressure, or the sensor is broken.
 *
 * The limits (10 s, 1 kPa of spread, 3 % of full scale within 7 to 70 kPa, else 35 kPa) are ours.
 */
export function zeroCheck(input: ZeroCheckInput): Result<ZeroCheck, ZeroCheckFailure> {
  const values = shortestTail(input.samples.filter((s) => Number.isFinite(s.value)));
  const [first] = values;
  const last = values.at(-1);
  if (first === undefined || last === undefined || values.length < VALUES) {
    return fail({ code: 'TOO_FEW', have: values.length, need: VALUES });
  }
  const span_s = last.t - first.t;
  if (!(span_s >= SPAN_S)) return fail({ code: 'TOO_SHORT', have_s: span_s, need_s: SPAN_S });
  const mean = values.reduce((sum, s) => sum + s.value, 0) / values.length;
  const spread_Pa = Math.max(...values.map((s) => Math.abs(s.value - mean)));
  if (spread_Pa > STILL_PA) return fail({ code: 'NOT_STILL', spread_Pa, limit_Pa: STILL_PA });
  if (input.reference === 'absolute' && input.atmosphere_Pa === null) {
    return fail({ code: 'NO_BAROMETER' });
  }
  const expected = input.reference === 'absolute' ? (input.atmosphere_Pa ?? 0) : 0;
  const offset_Pa = mean - expected;
  const limit_Pa = offsetLimit(input.fullScale_Pa);
  if (Math.abs(offset_Pa) > limit_Pa) return fail({ code: 'IMPLAUSIBLE', offset_Pa, limit_Pa });
  return ok({ offset_Pa, spread_Pa, samples: values.length, span_s });
}

/** The fewest last values that are enough and span enough; all of them where they are not. */
function shortestTail(values: readonly ZeroSample[]): readonly ZeroSample[] {
  const last = values.at(-1);
  if (last === undefined) return values;
  const from = values.findLastIndex(
    (s, i) => values.length - i >= VALUES && last.t - s.t >= SPAN_S,
  );
  return from < 0 ? values : values.slice(from);
}

function offsetLimit(fullScale_Pa: number | null): number {
  if (fullScale_Pa === null) return OFFSET_DEFAULT_PA;
  const [low, high] = OFFSET_BOUNDS_PA;
  return Math.min(high, Math.max(low, OFFSET_OF_FULL_SCALE * fullScale_Pa));
}
