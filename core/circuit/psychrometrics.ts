import psychrolib from 'psychrolib';
import { fail, ok, type Result } from '../result.ts';
import { kelvin, type Kelvin, type Pascal } from '../units/brands.ts';
import { celsiusFromKelvin, kelvinFromCelsius } from '../units/temperature.ts';

/**
 * The one wrapper of psychrolib (formulas of ASHRAE Handbook Fundamentals 2017, chapter 1). Its
 * unit system is a global switch that any other caller could have turned, so it is set before
 * every call; its exceptions become data.
 */

/** Air at one place: what a dry bulb, one measure of moisture and the atmosphere say together. */
export interface MoistAir {
  readonly dryBulb: Kelvin;
  readonly wetBulb: Kelvin;
  readonly dewPoint: Kelvin;
  /** 0..1 */
  readonly relativeHumidity: number;
  /** kg water per kg dry air. */
  readonly humidityRatio: number;
  /** J per kg dry air, zero at 0 °C dry. */
  readonly enthalpy: number;
  /** m3 per kg dry air. */
  readonly specificVolume: number;
}

/** How moist: exactly one of the two is known. */
export type Moisture = { readonly relativeHumidity: number } | { readonly wetBulb: Kelvin };

/** Why there is no answer. Limits are those of the air in and around a building. */
export type PsychrometricRefusal =
  | {
      readonly code: 'AIR_OUT_OF_RANGE';
      readonly quantity: AirQuantity;
      readonly value: number;
      readonly min: number;
      readonly max: number;
    }
  | { readonly code: 'WET_BULB_ABOVE_DRY_BULB'; readonly wetBulb: number; readonly dryBulb: number }
  | { readonly code: 'WET_BULB_TOO_LOW'; readonly wetBulb: number; readonly dryBulb: number };
type AirQuantity = 'dryBulb' | 'wetBulb' | 'relativeHumidity' | 'atmosphere';

const LIMITS: Record<AirQuantity, readonly [number, number]> = {
  dryBulb: [223.15, 343.15],
  wetBulb: [223.15, 343.15],
  relativeHumidity: [0, 1],
  atmosphere: [4e4, 1.1e5],
};

/**
 * The state of moist air from its dry bulb, its relative humidity (0..1) or wet bulb (K), and the
 * atmospheric pressure (Pa) of the site: altitude counts.
 */
export function moistAir(
  dryBulb: Kelvin,
  moisture: Moisture,
  atmosphere: Pascal,
): Result<MoistAir, PsychrometricRefusal> {
  const refusal =
    outside('dryBulb', dryBulb) ??
    outside('atmosphere', atmosphere) ??
    ('wetBulb' in moisture
      ? outside('wetBulb', moisture.wetBulb)
      : outside('relativeHumidity', moisture.relativeHumidity));
  if (refusal !== null) return fail(refusal);
  const t = celsiusFromKelvin(dryBulb);
  psychrolib.SetUnitSystem(psychrolib.SI);
  if ('wetBulb' in moisture) {
    const { wetBulb } = moisture;
    if (wetBulb > dryBulb) return fail({ code: 'WET_BULB_ABOVE_DRY_BULB', wetBulb, dryBulb });
    // psychrolib silently floors the humidity ratio at 1e-7: a wet bulb below that of dry air.
    const driest = psychrolib.GetTWetBulbFromHumRatio(t, 1e-7, atmosphere);
    if (celsiusFromKelvin(wetBulb) < driest - 0.01) {
      return fail({ code: 'WET_BULB_TOO_LOW', wetBulb, dryBulb });
    }
    const w = psychrolib.GetHumRatioFromTWetBulb(t, celsiusFromKelvin(wetBulb), atmosphere);
    return ok({ ...stateAt(t, w, atmosphere), dryBulb, wetBulb });
  }
  const w = psychrolib.GetHumRatioFromRelHum(t, moisture.relativeHumidity, atmosphere);
  return ok({ ...stateAt(t, w, atmosphere), dryBulb });
}

/**
 * Wet-bulb temperature (K) from dry bulb (K), relative humidity (0..1) and atmosphere (Pa); NaN
 * where {@link moistAir} refuses: for use inside the propagation of uncertainty.
 */
export function wetBulbFromHumidity(dryBulb: number, humidity: number, atmosphere: number): number {
  const air = moistAir(kelvin(dryBulb), { relativeHumidity: humidity }, atmosphere as Pascal);
  return air.ok ? air.value.wetBulb : NaN;
}

function outside(quantity: AirQuantity, value: number): PsychrometricRefusal | null {
  const [min, max] = LIMITS[quantity];
  return value >= min && value <= max
    ? null
    : { code: 'AIR_OUT_OF_RANGE', quantity, value, min, max };
}

/** All properties at °C, kg/kg and Pa; the unit system has just been set. */
function stateAt(t: number, w: number, atmosphere: number): MoistAir {
  return {
    dryBulb: kelvinFromCelsius(t),
    wetBulb: kelvinFromCelsius(psychrolib.GetTWetBulbFromHumRatio(t, w, atmosphere)),
    dewPoint: kelvinFromCelsius(psychrolib.GetTDewPointFromHumRatio(t, w, atmosphere)),
    relativeHumidity: psychrolib.GetRelHumFromHumRatio(t, w, atmosphere),
    humidityRatio: w,
    enthalpy: psychrolib.GetMoistAirEnthalpy(t, w),
    specificVolume: psychrolib.GetMoistAirVolume(t, w, atmosphere),
  };
}
