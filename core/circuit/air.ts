import { fail, ok, type Result } from '../result.ts';
import { kelvin, pascal } from '../units/brands.ts';
import { moistAir, type Moisture, type PsychrometricRefusal } from './psychrometrics.ts';
import { evaluate, type Uncertain } from './uncertainty.ts';

/**
 * The air side of the indoor coil: what the air gives or takes. Mass flow of dry air from the
 * volume flow at the state of the return air; heat from the enthalpies of ASHRAE Handbook
 * Fundamentals 2017, chapter 1 (through psychrometrics.ts). The water that leaves with the
 * condensate carries under 2 % of the latent heat and is left out.
 */

/** How the moisture of an air stream is known, k = 2. K or 0..1. */
export type MeasuredMoisture =
  | { readonly kind: 'wetBulb'; readonly reading: Uncertain }
  | { readonly kind: 'humidity'; readonly reading: Uncertain };

/** The air side in numbers, SI: m3/s at the return air, K, Pa. */
export interface AirSide {
  readonly flow: Uncertain;
  readonly returnAir: Uncertain;
  readonly supplyAir: Uncertain;
  readonly returnMoisture: MeasuredMoisture | null;
  readonly supplyMoisture: MeasuredMoisture | null;
  readonly atmosphere: number;
}

/** Heat taken from the air (cooling) or given to it (heating: negative), W, k = 2. */
export interface AirCapacity {
  readonly sensible: Uncertain;
  /** Sensible and latent; null where the moisture of one side is not known. */
  readonly total: Uncertain | null;
}

/** Moisture assumed for the density of air of unknown humidity; it changes it by under 1 %. */
const ASSUMED_HUMIDITY = 0.5;
/** Its expanded uncertainty, k = 2; our own choice. */
const ASSUMED_HUMIDITY_U = 0.3;
/** Specific heat of dry air and of water vapour, J/(kg K) (ASHRAE Fundamentals 2017, ch. 1). */
const CP_DRY = 1006;
const CP_VAPOUR = 1860;

/** Sensible and total capacity on the air side with their uncertainty (k = 2). */
export function airCapacity(side: AirSide): Result<AirCapacity, PsychrometricRefusal> {
  const returnState = moistAir(
    kelvin(side.returnAir.value),
    moistureOf(side.returnMoisture, side.returnAir),
    pascal(side.atmosphere),
  );
  if (!returnState.ok) return fail(returnState.error);
  const base = [side.flow, side.returnAir, side.supplyAir];
  const assumed = side.returnMoisture === null;
  const moist = assumed
    ? { value: ASSUMED_HUMIDITY, u: ASSUMED_HUMIDITY_U }
    : side.returnMoisture.reading;
  const sensibleOf = ([flow = NaN, tReturn = NaN, tSupply = NaN, m = NaN]: readonly number[]) => {
    const air = moistAir(
      kelvin(tReturn),
      assumed ? { relativeHumidity: m } : withValue(side.returnMoisture, m, tReturn),
      pascal(side.atmosphere),
    );
    if (!air.ok) return NaN;
    const { specificVolume, humidityRatio } = air.value;
    return (flow / specificVolume) * (CP_DRY + CP_VAPOUR * humidityRatio) * (tReturn - tSupply);
  };
  const sensible = evaluate(sensibleOf, [...base, moist]);
  const total = totalCapacity(side, base);
  if (total !== null && !total.ok) return fail(total.error);
  return ok({ sensible, total: total === null ? null : total.value });
}

function totalCapacity(
  side: AirSide,
  base: readonly Uncertain[],
): Result<Uncertain, PsychrometricRefusal> | null {
  const { returnMoisture, supplyMoisture } = side;
  if (returnMoisture === null || supplyMoisture === null) return null;
  const p = pascal(side.atmosphere);
  const supply = moistAir(
    kelvin(side.supplyAir.value),
    moistureOf(supplyMoisture, side.supplyAir),
    p,
  );
  if (!supply.ok) return fail(supply.error);
  const totalOf = ([flow = NaN, tR = NaN, tS = NaN, mR = NaN, mS = NaN]: readonly number[]) => {
    const before = moistAir(kelvin(tR), withValue(returnMoisture, mR, tR), p);
    const after = moistAir(kelvin(tS), withValue(supplyMoisture, mS, tS), p);
    if (!before.ok || !after.ok) return NaN;
    return (flow / before.value.specificVolume) * (before.value.enthalpy - after.value.enthalpy);
  };
  return ok(evaluate(totalOf, [...base, returnMoisture.reading, supplyMoisture.reading]));
}

/** The moisture as measured; a wet bulb above the dry bulb by no more than both err is the dry bulb. */
function moistureOf(moisture: MeasuredMoisture | null, dryBulb: Uncertain): Moisture {
  if (moisture === null) return { relativeHumidity: ASSUMED_HUMIDITY };
  const { value, u } = moisture.reading;
  const excused = value - dryBulb.value <= Math.hypot(u, dryBulb.u);
  if (moisture.kind === 'wetBulb' && !excused) return { wetBulb: kelvin(value) };
  return withValue(moisture, value, dryBulb.value);
}

/** The slopes step aside by their uncertainty: humidity stays in 0..1, wet bulb under dry bulb. */
function withValue(moisture: MeasuredMoisture | null, value: number, dryBulb: number): Moisture {
  if (moisture?.kind === 'wetBulb') return { wetBulb: kelvin(Math.min(value, dryBulb)) };
  return { relativeHumidity: Math.min(1, Math.max(0, value)) };
}
