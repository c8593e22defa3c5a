import type { RefrigerantId } from '../refrigerant/types.ts';
import { refrigerant } from '../refrigerant/refrigerants.ts';
import {
  PlantFluid,
  emptySaturation,
  liquidEnthalpy,
  vapourDensity,
  vapourEnthalpy,
} from './fluid.ts';
import { volumetricEfficiency } from './compressor.ts';
import type { UnitSpec } from './scenario.ts';

/** One heat exchanger: sizes and conductances of the whole coil at nominal flows. */
export interface CoilDesign {
  readonly volume_m3: number;
  readonly wall_J_K: number;
  readonly air_W_K: number;
  readonly boiling_W_K: number;
  readonly condensing_W_K: number;
  readonly vapour_W_K: number;
  readonly liquid_W_K: number;
  readonly airflow_m3_s: number;
  readonly finArea_m2: number;
  /** Half the clear distance between fins: frost this thick closes the coil, m. */
  readonly halfGap_m: number;
}

/** Everything about a unit that follows from its nameplate. */
export interface UnitDesign {
  readonly indoor: CoilDesign;
  readonly outdoor: CoilDesign;
  /** Swept volume per second at nominal speed, m3/s. */
  readonly swept_m3_s: number;
  /** Refrigerant flow at the rating point, kg/s. */
  readonly flow_kg_s: number;
  /** Metering area times discharge coefficient that passes it there, m2. */
  readonly valveArea_m2: number;
  /** Saturation slope dT/dp at rating evaporation: turns spring settings from K to Pa. */
  readonly slope_K_Pa: number;
  /** Liquid density at the rating point, kg/m3. */
  readonly rhoLiquid_kg_m3: number;
  readonly liquidLine_m3: number;
  /** Vapour space between evaporator and compressor: suction line, accumulator, shell. */
  readonly suctionSpace_m3: number;
  readonly dischargeSpace_m3: number;
  readonly accumulator_m3: number;
  /** Rate constant of the oil return hole (accumulator) or of boiling-off in a shell, 1/s. */
  readonly oilReturn_1_s: number;
  readonly body_J_K: number;
  readonly suctionLine_W_K: number;
}

/** Fraction of the saturation pressure at which a metering orifice chokes; see valve.ts. */
export const CHOKE = 0.8;
/** Rating point: 35 °C outdoors, 26.7 °C and 50 % indoors (AHRI 210/240 test A, rounded; from memory). */
export const RATING = { outdoor_K: 308.15, indoor_K: 299.85, humidity: 0.5 } as const;

/** Pressure losses at the rating flow, Pa: suction pipe, discharge, condenser outlet to liquid port. */
export const SUCTION_LOSS = 12_000;
export const DISCHARGE_LOSS = 15_000;
export const LIQUID_PORT_LOSS = 6000;

const fluids = new Map<RefrigerantId, PlantFluid>();

/** The property table of a refrigerant; built once. */
export function plantFluid(id: RefrigerantId): PlantFluid {
  const known = fluids.get(id);
  if (known !== undefined) return known;
  const r = refrigerant(id);
  const made = new PlantFluid(r.curves, r.range.pMin * 1.02, r.range.pMax * 0.995);
  fluids.set(id, made);
  return made;
}

/** Liquid volume flow of a 10.5 kW unit below which its tubes are narrower, m3/s. */
const NARROWER_BELOW = 5.8e-5;

/** Design temperatures of a unit at its rating point, K. */
const EVAPORATING = 280.7;
const CONDENSING = 319.5;

/**
 * Sizes a unit from its cooling capacity. Coil volumes, surfaces and conductances are those of an
 * ordinary 10.5 kW (3 ton) split system, estimated from coil geometry (tube 9.5 mm, 14 fins per
 * inch indoors, 20 outdoors), and scale with the capacity; the compressor and the metering area follow
 * from the rating point and the refrigerant.
 */
export function designUnit(spec: UnitSpec, fluid: PlantFluid): UnitDesign {
  const k = spec.designCapacity_W / 10_500;
  const heatPump = spec.heatPump || spec.mode === 'heating';
  const low = fluid.saturation(fluid.dewPressure(EVAPORATING), emptySaturation());
  const high = fluid.saturation(fluid.dewPressure(CONDENSING), emptySaturation());
  const hLiquid = liquidEnthalpy(high, spec.nameplate.subcooling_K);
  const flow = spec.designCapacity_W / (vapourEnthalpy(low, spec.nameplate.superheat_K) - hLiquid);
  const density = vapourDensity(low, spec.nameplate.superheat_K);
  const tLiquid = high.tBubble - spec.nameplate.subcooling_K;
  const lineArea = (d: number): number => (Math.PI / 4) * d * d;
  const choke =
    spec.metering.kind === 'fixed' ? Math.max(low.p, CHOKE * fluid.bubblePressure(tLiquid)) : low.p;
  // A refrigerant that needs less volume flow of liquid is given narrower tubes.
  const tubes = Math.min(1, flow / (high.rhoLiquid * k) / NARROWER_BELOW);
  const accumulator = heatPump ? 3.2e-3 * k : 0.9e-3 * k;
  return {
    indoor: {
      volume_m3: (heatPump ? 4.4e-3 : 3.0e-3) * k * tubes,
      wall_J_K: 7500 * k,
      air_W_K: 1300 * k,
      boiling_W_K: 3000 * k,
      condensing_W_K: 3600 * k,
      vapour_W_K: 620 * k,
      liquid_W_K: 1100 * k,
      airflow_m3_s: spec.indoorAirflow_m3_s ?? 0.566 * k,
      finArea_m2: 17 * k,
      halfGap_m: 0.8e-3,
    },
    outdoor: {
      volume_m3: 4.2e-3 * k * tubes,
      wall_J_K: 11_500 * k,
      air_W_K: 3000 * k,
      boiling_W_K: 6000 * k,
      condensing_W_K: 8000 * k,
      vapour_W_K: 1900 * k,
      liquid_W_K: 2600 * k,
      airflow_m3_s: 1.25 * k,
      finArea_m2: 32 * k,
      halfGap_m: 0.6e-3,
    },
    swept_m3_s: flow / (density * volumetricEfficiency(high.p / low.p)),
    flow_kg_s: flow,
    valveArea_m2: flow / Math.sqrt(2 * high.rhoLiquid * (high.p - choke)),
    slope_K_Pa: low.slope,
    rhoLiquid_kg_m3: high.rhoLiquid,
    liquidLine_m3: lineArea(spec.lineSet.liquidDiameter_m) * spec.lineSet.length_m + 1.2e-4 * k,
    suctionSpace_m3:
      lineArea(spec.lineSet.suctionDiameter_m) * spec.lineSet.length_m + accumulator + 1.5e-3 * k,
    dischargeSpace_m3: 0.35e-3 * k,
    accumulator_m3: accumulator,
    oilReturn_1_s: heatPump ? 1 / 110 : 1 / 45,
    body_J_K: 7000 * k,
    suctionLine_W_K: 0.35 * spec.lineSet.length_m,
  };
}
