import type { FigureKey } from '../circuit/types.ts';
import type { EngineConfig, SnapshotContent } from '../engine-types.ts';
import { refrigerant } from '../refrigerant/refrigerants.ts';
import type { RefrigerantId } from '../refrigerant/types.ts';
import type { SteadinessState } from '../steadiness/types.ts';
import { normalBelow } from '../steadiness/normal.ts';
import {
  FREEZING_K,
  differenceFromFahrenheit,
  kelvinFromFahrenheit,
} from '../units/temperature.ts';
import { freshChannel } from './conditions.ts';
import type { Uncertain } from './types.ts';

/** What may harm the unit while it is left running as it is. */
export type HazardCode =
  | 'LIQUID_BACK' /* too little superheat: liquid may reach the compressor */
  | 'COIL_FREEZING' /* the indoor coil boils below freezing: it ices over */
  | 'HOT_DISCHARGE' /* oil breaks down, windings suffer */
  | 'HIGH_CONDENSING'; /* near what compressors are built for */

/** One hazard: the reading, the limit it has passed, and how sure that is. */
export interface Hazard {
  readonly code: HazardCode;
  /** SI, k = 2. */
  readonly reading: Uncertain;
  /** SI; a difference in K for LIQUID_BACK, a temperature in K for the others. */
  readonly limit: number;
  /** Probability that the reading is really past its limit. */
  readonly probability: number;
}

/**
 * Least superheat at the suction valve of a fixed orifice in cooling: "never less than 5 °F", printed
 * above the charging chart of an equipment manual (Lennox 14ACX, page 26).
 */
const LEAST_ORIFICE = differenceFromFahrenheit(5);
/**
 * Makers pass less behind a valve ("between 2 and 20 °F", Bryant R-22 service manual, page 34) and in
 * heating ("2 to 5 °F", Goodman GSX14 and GSZH5 service manual, pages 98 and 118).
 */
const LEAST_ELSE = differenceFromFahrenheit(2);
/** Discharge line near the compressor: common practice, no source. */
const HOTTEST_DISCHARGE = kelvinFromFahrenheit(225);
/** Condensing that comfort-cooling compressors are seldom built beyond: from memory, no source. */
const HIGHEST_CONDENSING = kelvinFromFahrenheit(150);
/** A hazard is named from this probability on: the limits are rounder than the readings. */
const NAMED_FROM = 0.7;

/** States in which readings are those of a unit at work; little superheat at a start or a disturbance passes. */
const AT_WORK: ReadonlySet<SteadinessState> = new Set<SteadinessState>([
  'settled',
  'hunting',
  'moving',
]);

/**
 * Whether it is safe to leave the unit running: what the readings themselves forbid, whatever the
 * cause. Empty where nothing is seen, which is not a promise: a channel that is not measured says
 * nothing.
 */
export function hazardsOf(
  content: SnapshotContent,
  config: Pick<EngineConfig, 'metering' | 'mode' | 'refrigerant'>,
): readonly Hazard[] {
  const { metering, mode } = config;
  // A fan that fails shows as a disturbance first: what is then too hot is told as it stands.
  if (content.state === 'disturbed') {
    return tooHot(content, condensingNow(content, config.refrigerant));
  }
  if (!AT_WORK.has(content.state)) return [];
  const cooling = mode === 'cooling';
  const figure = (key: FigureKey): Uncertain | null => content.figures[key] ?? null;
  return [
    below(
      'LIQUID_BACK',
      figure('superheat'),
      cooling && metering === 'fixed' ? LEAST_ORIFICE : LEAST_ELSE,
    ),
    cooling ? below('COIL_FREEZING', figure('suctionSaturation'), FREEZING_K) : null,
    ...tooHot(content, figure('liquidSaturation')),
  ].filter((hazard) => hazard !== null);
}

function tooHot(content: SnapshotContent, condensing: Uncertain | null): readonly Hazard[] {
  return [
    above('HOT_DISCHARGE', freshChannel(content, 'dischargeLineTemp'), HOTTEST_DISCHARGE),
    above('HIGH_CONDENSING', condensing, HIGHEST_CONDENSING),
  ].filter((hazard) => hazard !== null);
}

/** Condensing by the high-side pressure as it is now: a mean over a window lags behind one that runs away. */
function condensingNow(content: SnapshotContent, id: RefrigerantId): Uncertain | null {
  const high =
    freshChannel(content, 'liquidPressure') ?? freshChannel(content, 'dischargePressure');
  if (high === null) return null;
  const { curves, range } = refrigerant(id);
  // A pressure beyond the curves lies beyond the limit as their end does.
  const p = Math.min(range.pMax, Math.max(range.pMin, high.value));
  return { value: curves.tBubble(p), u: curves.tBubbleSlope(p) * high.u };
}

function below(code: HazardCode, reading: Uncertain | null, limit: number): Hazard | null {
  if (reading === null) return null;
  const { value, u } = reading;
  return named(code, { value, u }, limit, chance(limit - value, u));
}

function above(code: HazardCode, reading: Uncertain | null, limit: number): Hazard | null {
  if (reading === null) return null;
  const { value, u } = reading;
  return named(code, { value, u }, limit, chance(value - limit, u));
}

/** Probability that a reading with half-width u (k = 2) lies past a limit it exceeds by `by`. */
function chance(by: number, u: number): number {
  return u > 0 ? normalBelow((2 * by) / u) : by > 0 ? 1 : 0;
}

function named(
  code: HazardCode,
  reading: Uncertain,
  limit: number,
  probability: number,
): Hazard | null {
  return probability >= NAMED_FROM ? { code, reading, limit, probability } : null;
}
