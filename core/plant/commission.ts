import { Weather } from './air.ts';
import { humidityRatio } from './psychro.ts';
import { splitTruth } from './observe.ts';
import type { UnitSpec } from './scenario.ts';
import { RATING, designUnit, plantFluid, type UnitDesign } from './sizing.ts';
import type { RefrigerantId } from '../refrigerant/types.ts';
import { UnitPlant, type Commissioned } from './unit.ts';

const DT = 0.25;
/** The search ends when both targets have been met for four minutes, at the latest after this, s. */
const LONGEST = 5400;
const found = new Map<string, Commissioned>();

/** An ordinary thermostatic valve that surely does not hunt. */
const CALM = { oversize: 1.5, bulbLag_s: 40, band_K: 8 } as const;

/** Cooling mode with a calm valve, without faults: what the charge and the setting are found on. */
function plainUnit(spec: UnitSpec): UnitSpec {
  const heatPump = spec.heatPump || spec.mode === 'heating';
  const metering =
    spec.metering.kind === 'txv' ? { kind: 'txv' as const, bleed: 0.1, ...CALM } : spec.metering;
  return {
    ...spec,
    mode: 'cooling',
    heatPump,
    metering,
    faults: [],
    events: [],
    initialFrost_kg: 0,
  };
}

/** The spring with which another valve passes the rating flow at the same superheat. */
function fitted(found: Commissioned, spec: UnitSpec): Commissioned {
  if (spec.metering.kind !== 'txv') return found;
  const { band_K, oversize } = spec.metering;
  const spring_K = found.valve.spring_K + CALM.band_K / CALM.oversize - band_K / oversize;
  return { ...found, valve: { ...found.valve, spring_K } };
}

/**
 * Finds the charge and the valve setting with which the unit meets its nameplate at the rating
 * point: runs it there and lets two slow integrators move the charge until the subcooling, and the
 * spring (or the orifice) until the superheat is as wanted. Pure; kept per design.
 */
export function commission(
  spec: UnitSpec,
  id: RefrigerantId,
): { design: UnitDesign; found: Commissioned } {
  const fluid = plantFluid(id);
  const design = designUnit(spec, fluid);
  const plain = plainUnit(spec);
  const key = JSON.stringify([
    id,
    plain.designCapacity_W,
    plain.metering,
    plain.lineSet,
    plain.nameplate,
    plain.heatPump,
    plain.indoorAirflow_m3_s,
  ]);
  const known = found.get(key);
  if (known !== undefined) return { design, found: fitted(known, spec) };
  const made = search(plain, id, design);
  found.set(key, made);
  return { design, found: fitted(made, spec) };
}

function search(spec: UnitSpec, id: RefrigerantId, design: UnitDesign): Commissioned {
  const p = 101_325;
  const fluid = plantFluid(id);
  const weather = new Weather(
    { outdoorAir_K: RATING.outdoor_K, outdoorHumidity: 0.4, gust: { sigma_K: 0, time_s: 10 } },
    p,
    0,
    DT,
  );
  const k = spec.designCapacity_W / 10_500;
  const guess: Commissioned = {
    charge_kg: (2.3e-3 * k + design.liquidLine_m3) * design.rhoLiquid_kg_m3,
    valve: {
      spring_K: spec.metering.kind === 'eev' ? spec.nameplate.superheat_K - 1.2 : 0,
      area_m2: design.valveArea_m2,
    },
  };
  const plant = new UnitPlant(spec, 'A', design, fluid, weather, guess, 0, DT);
  const w = humidityRatio(RATING.indoor_K, RATING.humidity, p);
  plant.control.call(true);
  let metFor = 0;
  for (let i = 1; i * DT < LONGEST && metFor < 240; i += 1) {
    const t = i * DT;
    weather.step(t);
    plant.room.pin(RATING.indoor_K, w);
    plant.step(t, DT);
    if (t < 300 || i % 4 !== 0) continue;
    const now = splitTruth(plant);
    const less = Math.max(Math.min(spec.nameplate.subcooling_K - now.subcooling, 4), -4);
    plant.addCharge(3e-4 * k * less);
    const error = Math.max(Math.min(now.superheat - spec.nameplate.superheat_K, 4), -4);
    if (spec.metering.kind === 'fixed') plant.valve.area_m2 *= 1 + 1.5e-4 * error;
    else plant.valve.spring_K -= 4e-3 * error;
    metFor = Math.abs(less) < 0.04 && Math.abs(error) < 0.04 && t > 1200 ? metFor + 1 : 0;
  }
  return { charge_kg: plant.charge, valve: { ...plant.valve } };
}
