import { subcoolingOf } from './fluid.ts';
import { CP_AIR, relativeHumidity, wetBulb } from './psychro.ts';
import { DISCHARGE_LOSS, LIQUID_PORT_LOSS, SUCTION_LOSS } from './sizing.ts';
import type { SplitTruth } from './truth.ts';
import type { UnitPlant } from './unit.ts';

/** Pressure at the suction port, Pa. */
export function suctionPort(u: UnitPlant): number {
  const rel = u.compressor.swept / u.design.flow_kg_s;
  return u.low.p - SUCTION_LOSS * rel * rel;
}

/** Pressure at the discharge, Pa (foreign gas included). */
export function dischargePort(u: UnitPlant): number {
  const rel = u.compressor.delivered / u.design.flow_kg_s;
  return u.high.p + u.pForeign + DISCHARGE_LOSS * rel * rel;
}

/** Pressure at the liquid port, Pa: condenser outlet, foreign gas included. */
export function liquidPort(u: UnitPlant): number {
  const rel = u.line.flow / u.design.flow_kg_s;
  return u.high.p + u.pForeign - LIQUID_PORT_LOSS * rel * rel;
}

/** Temperature behind the drier: colder than before it where the liquid flashes in it, K. */
export function drierOutlet(u: UnitPlant): number {
  return Math.min(u.line.t, u.line.end.tBubble - subcoolingOf(u.line.end, u.line.h));
}

/** Current of a single-phase compressor, A; several times the running current while it starts. */
export function compressorCurrent(u: UnitPlant): number {
  if (u.speed <= 0) return 0;
  const running = u.compressor.power / (u.spec.voltage_V * 0.95);
  const rated = u.spec.designCapacity_W / 4.2 / (u.spec.voltage_V * 0.95);
  const starting = u.control.orders.compressor ? 5 * rated * Math.max(0.95 - u.speed, 0) : 0;
  return Math.max(running, 0.25 * rated * u.speed) + starting;
}

/** The whole noise-free state of a unit. */
export function splitTruth(u: UnitPlant): SplitTruth {
  const p = u.weather.p;
  const suction = suctionPort(u);
  const liquid = liquidPort(u);
  const atSuction = u.fluid.saturation(suction, u.scratch);
  const tEvaporating = atSuction.tDew;
  const tCondensing = u.fluid.saturation(liquid, u.scratch).tBubble;
  const evap = u.evaporatorCoil;
  const cond = u.condenserCoil;
  const rejected = -cond.heatTotal + u.body.loss;
  const taken = evap.heatTotal + u.compressor.power + u.pipe.gain + u.line.gain + u.shellGain;
  const indoor = u.indoor.air;
  const flowOut = Math.max(u.air.outdoor.flow, 1e-3);
  const sign = u.reversed ? -1 : 1;
  return {
    kind: 'splitSystem',
    t: u.t,
    running: u.speed > 0.5,
    defrosting: u.control.orders.defrosting,
    suctionPressure: suction,
    dischargePressure: dischargePort(u),
    liquidPressure: liquid,
    tEvaporating,
    tCondensing,
    superheat: u.pipe.t - tEvaporating,
    subcooling: tCondensing - u.line.t,
    evaporatorSuperheat: u.evaporator.tVapour - u.low.tDew,
    tSuctionLine: u.pipe.t,
    tLiquidLine: u.line.t,
    tDischargeLine: u.body.tDischarge,
    tDrierInlet: u.line.t,
    tDrierOutlet: drierOutlet(u),
    tOutdoorAir: u.weather.t,
    tReturnAir: u.room.tReturn,
    returnHumidityRatio: u.room.w,
    returnHumidity: relativeHumidity(u.room.tReturn, u.room.w, p),
    tReturnWetBulb: wetBulb(u.room.tReturn, u.room.w, p),
    tSupplyAir: u.air.tSupply,
    supplyHumidityRatio: u.air.wSupply,
    tOutdoorLeaving: u.weather.t - u.outdoor.air.sensible / (flowOut * CP_AIR),
    indoorAirflow_m3_s: u.air.indoor.share * u.design.indoor.airflow_m3_s,
    mass: {
      indoorCoil: u.indoor.mass,
      outdoorCoil: u.outdoor.mass,
      liquidLine: u.line.mass,
      accumulator: u.accumulator,
      total: u.charge,
      expected: u.expected,
    },
    wettedShare: u.evaporator.wetted,
    subcooledShare: u.condenser.subcooled,
    valveOpening: u.element.opening,
    refrigerantFlow_kg_s: u.line.flow,
    capacity_W: sign * (indoor.sensible + indoor.latent),
    sensibleCapacity_W: sign * indoor.sensible,
    heatRejected_W: rejected,
    compressorPower_W: u.compressor.power,
    compressorCurrent_A: compressorCurrent(u),
    energyResidual: rejected > 1 ? (taken - rejected) / rejected : 0,
    frostIndoor_kg: u.indoor.frostMass,
    frostOutdoor_kg: u.outdoor.frostMass,
    tIndoorSurface: u.indoor.coldest,
    tOutdoorSurface: u.outdoor.coldest,
  };
}
