import { subcoolingOf } from './fluid.ts';
import { CP_AIR, relativeHumidity, wetBulb } from './psychro.ts';
import type { SplitTruth } from './truth.ts';
import type { UnitPlant } from './unit.ts';

/** Pressure at the suction port, Pa. */
export function suctionPort(u: UnitPlant): number {
  const rel = u.compressor.swept / u.design.flow_kg_s;
  return u.low.p - 12_000 * rel * rel;
}

/** Pressure at the discharge, Pa (foreign gas included). */
export function dischargePort(u: UnitPlant): number {
  const rel = u.compressor.delivered / u.design.flow_kg_s;
  return u.high.p + u.pForeign + 15_000 * rel * rel;
}

/** Pressure at the liquid port, Pa: condenser outlet, foreign gas included. */
export function liquidPort(u: UnitPlant): number {
  const rel = u.flowValve / u.design.flow_kg_s;
  return u.high.p + u.pForeign - 6000 * rel * rel;
}

/** Temperature behind the drier: colder than before it where the liquid flashes in it, K. */
export function drierOutlet(u: UnitPlant): number {
  return Math.min(u.tLiquid, u.valveState.tBubble - subcoolingOf(u.valveState, u.hLine));
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
  const rejected = -cond.heatTotal + u.bodyLoss;
  const taken = evap.heatTotal + u.compressor.power + u.suctionGain + u.lineGain;
  const indoor = u.indoor.air;
  const flowOut = Math.max(u.outdoorAir.flow, 1e-3);
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
    superheat: u.tSuctionPipe - tEvaporating,
    subcooling: tCondensing - u.tLiquid,
    evaporatorSuperheat: u.evaporator.tVapour - u.low.tDew,
    tSuctionLine: u.tSuctionPipe,
    tLiquidLine: u.tLiquid,
    tDischargeLine: u.tDischarge,
    tDrierInlet: u.tLiquid,
    tDrierOutlet: drierOutlet(u),
    tOutdoorAir: u.weather.t,
    tReturnAir: u.room.tReturn,
    returnHumidityRatio: u.room.w,
    returnHumidity: relativeHumidity(u.room.tReturn, u.room.w, p),
    tReturnWetBulb: wetBulb(u.room.tReturn, u.room.w, p),
    tSupplyAir: u.tSupply,
    supplyHumidityRatio: u.wSupply,
    tOutdoorLeaving: u.weather.t - u.outdoor.air.sensible / (flowOut * CP_AIR),
    indoorAirflow_m3_s: u.indoorShare * u.design.indoor.airflow_m3_s,
    mass: {
      indoorCoil: u.indoor.mass,
      outdoorCoil: u.outdoor.mass,
      liquidLine: u.lineMass,
      accumulator: u.accumulator,
      total: u.charge,
      expected: u.expected,
    },
    wettedShare: u.evaporator.wetted,
    subcooledShare: u.condenser.subcooled,
    valveOpening: u.element.opening,
    refrigerantFlow_kg_s: u.flowValve,
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
