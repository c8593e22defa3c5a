import { fail, ok, type Result } from '../result.ts';
import { normalBelow } from '../steadiness/normal.ts';
import { kelvin } from '../units/brands.ts';
import { differenceFromFahrenheit } from '../units/temperature.ts';
import { refrigerant } from '../refrigerant/refrigerants.ts';
import type { OutOfRange, RefrigerantId } from '../refrigerant/types.ts';
import type { Uncertain } from '../diagnosis/types.ts';

/**
 * The standing check: the unit off, both pressures equal and at rest, compared with saturation at
 * the coldest and at the warmest place around the circuit. Liquid settles in the coldest place, so
 * with liquid anywhere the pressure is the saturation of the place that holds it: between the two.
 */
export interface StandingInput {
  readonly refrigerant: RefrigerantId;
  readonly running: boolean | null;
  /** Pa absolute, k = 2; null where not measured. */
  readonly low: Uncertain | null;
  readonly high: Uncertain | null;
  /** Rate of change of each, Pa/s with its half-width (k = 2); null where it cannot be told yet. */
  readonly lowRate: Uncertain | null;
  readonly highRate: Uncertain | null;
  /** Temperatures of what surrounds the circuit (outdoor air, indoor air), K, k = 2. */
  readonly surroundings: readonly Uncertain[];
  /** Seconds since the compressor stopped; null where the stop was not seen. */
  readonly offFor: number | null;
}

/** How far equalising has come. */
export interface Equalising {
  /** 'reversed': the suction side reads above the high side, which no stop leaves behind. */
  readonly state: 'equalising' | 'equal' | 'stuckApart' | 'reversed';
  /** High minus low, Pa, k = 2; null with one gauge. */
  readonly difference: Uncertain | null;
  /** Seconds until they are equal at the present rate, where that can be told. */
  readonly timeLeft: number | null;
}

/** What the verdict waits for. */
export type StandingWait =
  | { readonly code: 'notEqual' }
  | { readonly code: 'tooShort' /* watched for too short a time to tell whether it drifts */ }
  /** The faster of the two drifts, Pa/s: up where positive. */
  | { readonly code: 'drifting'; readonly rate: number };

/** What the standing pressure says. */
export interface Standing {
  readonly equalising: Equalising;
  /** What stands in the way of a verdict; null with one. */
  readonly wait: StandingWait | null;
  /** Null while equalising or still drifting. */
  readonly verdict: 'agrees' | 'below' | 'above' | 'undecided' | null;
  readonly probability: {
    readonly below: number;
    readonly agrees: number;
    readonly above: number;
  } | null;
  /** Pressure that is judged, Pa absolute, k = 2. */
  readonly pressure: Uncertain;
  /** Saturation (lowest, highest) at the surroundings, Pa absolute, k = 2. */
  readonly saturation: { readonly coldest: Uncertain; readonly warmest: Uncertain };
}

/** Why there is no standing check. */
export type StandingRefusal =
  | { readonly code: 'STILL_RUNNING' }
  | { readonly code: 'NO_PRESSURE' }
  /** How far equalising has come is told without them. */
  | { readonly code: 'NO_SURROUNDINGS'; readonly equalising: Equalising }
  | { readonly code: 'OUT_OF_RANGE'; readonly detail: OutOfRange };

/** Drift below which a pressure is at rest: its saturation moves under 0.3 K in 10 minutes, K/s. */
const REST_K_S = 0.3 / 600;
/** Off for this long and still apart and at rest: a check valve or a solenoid holds them, s. */
const APART_S = 1200;

/** The standing check at one moment. */
export function standing(input: StandingInput): Result<Standing, StandingRefusal> {
  if (input.running === true) return fail({ code: 'STILL_RUNNING' });
  const both = [input.low, input.high].filter((p) => p !== null);
  const [first] = both;
  if (first === undefined) return fail({ code: 'NO_PRESSURE' });
  const equalising = equalisingOf(input);
  if (input.surroundings.length === 0) return fail({ code: 'NO_SURROUNDINGS', equalising });
  const coldest = extreme(input.surroundings, -1);
  const warmest = extreme(input.surroundings, 1);
  const cold = saturationAt(input.refrigerant, coldest, 'dew');
  const warm = saturationAt(input.refrigerant, warmest, 'bubble');
  if (!cold.ok) return fail({ code: 'OUT_OF_RANGE', detail: cold.error });
  if (!warm.ok) return fail({ code: 'OUT_OF_RANGE', detail: warm.error });
  const pressure = combined(input.low, input.high, first);
  const saturation = { coldest: cold.value, warmest: warm.value };
  const wait: StandingWait | null =
    equalising.state === 'equal' ? driftOf(input, coldest) : { code: 'notEqual' };
  if (wait !== null) {
    return ok({ equalising, wait, verdict: null, probability: null, pressure, saturation });
  }
  return ok({
    equalising,
    wait,
    ...verdictOf(input.refrigerant, pressure, saturation),
    pressure,
    saturation,
  });
}

function extreme(places: readonly Uncertain[], sign: 1 | -1): Uncertain {
  return places.reduce((a, b) => (sign * b.value > sign * a.value ? b : a));
}

/**
 * Saturation pressure at a temperature, with its uncertainty. With a glide the liquid of unknown
 * amount stands between dew and bubble: the dew pressure is the lower, the bubble the upper end.
 */
function saturationAt(
  id: RefrigerantId,
  t: Uncertain,
  curve: 'dew' | 'bubble',
): Result<Uncertain, OutOfRange> {
  const fluid = refrigerant(id);
  const at = (x: number) =>
    curve === 'dew' ? fluid.dewPressure(kelvin(x)) : fluid.bubblePressure(kelvin(x));
  const p = at(t.value);
  if (!p.ok) return fail(p.error);
  const up = at(t.value + t.u);
  const slope = up.ok ? up.value - p.value : 0;
  return ok({ value: p.value, u: Math.abs(slope) });
}

/** The mean of two gauges that agree; one alone where the other is missing. */
function combined(low: Uncertain | null, high: Uncertain | null, first: Uncertain): Uncertain {
  if (low === null || high === null) return first;
  return { value: (low.value + high.value) / 2, u: Math.hypot(low.u, high.u) / 2 };
}

/** The suction side above the high side by more than this share of it: not by a gauge that is off. */
const REVERSED = 0.1;

function equalisingOf(input: StandingInput): Equalising {
  if (input.low === null || input.high === null) {
    // One gauge cannot show equality; rest of that gauge for long enough stands in for it.
    const long = input.offFor === null || input.offFor >= APART_S;
    return { state: long ? 'equal' : 'equalising', difference: null, timeLeft: null };
  }
  const difference = {
    value: input.high.value - input.low.value,
    u: Math.hypot(input.low.u, input.high.u),
  };
  const rate =
    input.lowRate === null || input.highRate === null
      ? null
      : input.highRate.value - input.lowRate.value;
  const closing = rate !== null && rate * Math.sign(difference.value) < 0;
  if (Math.abs(difference.value) <= difference.u) {
    return { state: 'equal', difference, timeLeft: null };
  }
  if (-difference.value > difference.u + REVERSED * input.high.value) {
    return { state: 'reversed', difference, timeLeft: null };
  }
  const slow = rate !== null && Math.abs(rate) * 600 < 0.05 * Math.abs(difference.value);
  if (slow && (input.offFor ?? 0) >= APART_S) {
    return { state: 'stuckApart', difference, timeLeft: null };
  }
  const timeLeft = closing && !slow ? Math.abs(difference.value / rate) : null;
  return { state: 'equalising', difference, timeLeft };
}

/** Null where both pressures are still enough: their drift, in saturation temperature, is small. */
function driftOf(input: StandingInput, at: Uncertain): StandingWait | null {
  const { curves } = refrigerant(input.refrigerant);
  const p = curves.pDew(at.value);
  const perKelvin = Math.max(curves.pDew(at.value + 0.5) - curves.pDew(at.value - 0.5), 1e-6 * p);
  const limit = REST_K_S * perKelvin;
  const watched = [
    [input.low, input.lowRate],
    [input.high, input.highRate],
  ] as const;
  let fastest = 0;
  for (const [gauge, rate] of watched) {
    if (gauge === null) continue;
    if (rate === null) return { code: 'tooShort' };
    if (Math.abs(rate.value) > Math.abs(fastest)) fastest = rate.value;
  }
  return Math.abs(fastest) > limit ? { code: 'drifting', rate: fastest } : null;
}

/**
 * The band of agreement is widened by this on both sides: the thermometers do not stand in the
 * liquid, and the circuit has places they do not know. Our own choice, 3 °F.
 */
const PLACES_K = differenceFromFahrenheit(3);

function verdictOf(id: RefrigerantId, pressure: Uncertain, saturation: Standing['saturation']) {
  const { curves } = refrigerant(id);
  const low = curves.pDew(curves.tDew(saturation.coldest.value) - PLACES_K);
  const high = curves.pBubble(curves.tBubble(saturation.warmest.value) + PLACES_K);
  const uLow = Math.max(Math.hypot(pressure.u, saturation.coldest.u), 1e-9);
  const uHigh = Math.max(Math.hypot(pressure.u, saturation.warmest.u), 1e-9);
  const below = normalBelow((2 * (low - pressure.value)) / uLow);
  const above = normalBelow((2 * (pressure.value - high)) / uHigh);
  const probability = { below, agrees: Math.max(0, 1 - below - above), above };
  const verdict = ((): 'agrees' | 'below' | 'above' | 'undecided' => {
    if (pressure.value + uLow < low) return 'below';
    if (pressure.value - uHigh > high) return 'above';
    return pressure.value - uLow >= low && pressure.value + uHigh <= high ? 'agrees' : 'undecided';
  })();
  return { verdict, probability };
}
