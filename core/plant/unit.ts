import { Weather, Room } from './air.ts';
import { Coil, type AirStream } from './coil.ts';
import { bodyEffectiveness, compress, idleCompressor } from './compressor.ts';
import { condense, type CondenserOutput } from './condense.ts';
import { Control } from './control.ts';
import { evaporate, type EvaporatorOutput } from './evaporate.ts';
import { CHARGE_AT_FULL, GAS_AT_FULL, faultsAt, healthy } from './faults.ts';
import {
  densityOf,
  emptySaturation,
  qualityOf,
  subcoolingOf,
  superheatOf,
  vapourCp,
  vapourDensity,
  vapourEnthalpy,
  type PlantFluid,
} from './fluid.ts';
import { CP_AIR, airDensity } from './psychro.ts';
import type { UnitSpec } from './scenario.ts';
import type { UnitDesign } from './sizing.ts';
import { MeteringElement, meteredFlow, rootFlow, type ValveSettings } from './valve.ts';

const GAS_CONSTANT = 8.314462618;
/** Pressure losses at the rating flow, Pa: suction line, discharge, liquid line. */
const SUCTION_LOSS = 12_000;
const DISCHARGE_LOSS = 15_000;
const LINE_LOSS = 20_000;
/** Restriction at full severity, Pa at the rating flow. */
const RESTRICTION_LOSS = 2.4e6;
const SUCTION_PIPE_W_K = 150;
const LIQUID_PIPE_W_K = 3;

/** What was found at the rating point: the charge and the valve setting that meet the nameplate. */
export interface Commissioned {
  readonly charge_kg: number;
  readonly valve: ValveSettings;
}

/**
 * One split system: two coils, compressor with its body, liquid line, suction line, accumulator,
 * metering element, room and duct. `step` advances all of it by one fixed time step; the charge
 * only moves between the places, so that their sum stays what was put in.
 */
export class UnitPlant {
  readonly spec: UnitSpec;
  readonly design: UnitDesign;
  readonly fluid: PlantFluid;
  readonly indoor: Coil;
  readonly outdoor: Coil;
  readonly room: Room;
  readonly weather: Weather;
  readonly control: Control;
  readonly element: MeteringElement;
  readonly valve: ValveSettings;
  readonly faults = healthy();
  readonly low = emptySaturation();
  readonly high = emptySaturation();
  readonly compressor = idleCompressor();
  readonly evaporator: EvaporatorOutput = {
    wetted: 0,
    quality: 1,
    hVapour: 0,
    tVapour: 0,
    tOutlet: 0,
  };
  readonly condenser: CondenserOutput = {
    desuperheating: 0,
    subcooled: 0,
    quality: 0,
    h: 0,
    hVapourLeft: 0,
  };
  readonly indoorAir: AirStream;
  readonly outdoorAir: AirStream;
  /** True while the indoor coil is the condenser. */
  reversed: boolean;
  t = 0;
  speed = 0;
  accumulator = 0;
  lineMass = 0;
  hLine = 0;
  expected: number;
  /** Charged through the port since the start, kg: what a scale under the cylinder would miss. */
  charged = 0;
  tBody: number;
  tSuctionPipe: number;
  tDischarge: number;
  tLiquid: number;
  tDuct: number;
  tSupply: number;
  wSupply: number;
  pMid = 0;
  pForeign = 0;
  flowValve = 0;
  flowCondenser = 0;
  suctionGain = 0;
  lineGain = 0;
  bodyLoss = 0;
  indoorShare = 0;
  outdoorShare = 0;
  readonly scratch = emptySaturation();
  private h1 = 0;
  private faultCharge = 0;
  private readonly baseCharge: number;

  constructor(
    spec: UnitSpec,
    key: string,
    design: UnitDesign,
    fluid: PlantFluid,
    weather: Weather,
    found: Commissioned,
    seed: number,
    dt: number,
  ) {
    this.spec = spec;
    this.design = design;
    this.fluid = fluid;
    this.weather = weather;
    this.room = new Room(spec.room, weather.p, seed, key, dt);
    this.indoor = new Coil(design.indoor, this.room.t);
    this.outdoor = new Coil(design.outdoor, weather.t);
    this.control = new Control(spec, seed, key, fluid.dewPressure(243), fluid.bubblePressure(339));
    this.element = new MeteringElement(spec.metering, fluid, design.slope_K_Pa, this.room.t);
    this.valve = { ...found.valve };
    this.reversed = spec.mode === 'heating';
    this.baseCharge = found.charge_kg;
    faultsAt(spec.faults, 0, this.faults);
    this.faultCharge = this.chargeByFault();
    this.expected = this.baseCharge + this.faultCharge;
    const air = (): AirStream => ({
      t: 0,
      w: 0,
      tDew: 0,
      p: weather.p,
      flow: 0,
      share: 0,
      clean: 1,
    });
    this.indoorAir = air();
    this.outdoorAir = air();
    this.tBody = weather.t;
    this.tSuctionPipe = weather.t;
    this.tDischarge = weather.t;
    this.tLiquid = weather.t;
    this.tDuct = this.room.t;
    this.tSupply = this.room.t;
    this.wSupply = this.room.w;
    this.fillAtRest();
    if (spec.initialFrost_kg > 0) {
      const coil = this.evaporatorCoil;
      coil.frost.fill(spec.initialFrost_kg / coil.frost.length);
    }
  }

  /** The coils by what they do now. */
  get evaporatorCoil(): Coil {
    return this.reversed ? this.outdoor : this.indoor;
  }
  get condenserCoil(): Coil {
    return this.reversed ? this.indoor : this.outdoor;
  }
  /** Spaces that share the pressure of each coil, m3. */
  get lowVolume(): number {
    return this.evaporatorCoil.design.volume_m3 + this.design.suctionSpace_m3;
  }
  get highVolume(): number {
    return this.condenserCoil.design.volume_m3 + this.design.dischargeSpace_m3;
  }
  /** Refrigerant in all places, kg. */
  get charge(): number {
    return this.indoor.mass + this.outdoor.mass + this.lineMass + this.accumulator;
  }

  private chargeByFault(): number {
    const f = this.faults;
    return (
      this.baseCharge *
      (CHARGE_AT_FULL.lowCharge * f.lowCharge + CHARGE_AT_FULL.overcharge * f.overcharge)
    );
  }

  /**
   * Distributes the charge as after a long rest: one pressure everywhere, saturation at the colder
   * coil, which holds all the liquid there is room for; elsewhere superheated vapour.
   */
  private fillAtRest(): void {
    const tIn = this.room.t;
    const tOut = this.weather.t;
    const coldIn = tIn <= tOut;
    const p = this.fluid.dewPressure(Math.min(tIn, tOut));
    const s = this.fluid.saturation(p, this.low);
    this.fluid.saturation(p, this.high);
    const volume = (coil: Coil): number =>
      coil === this.evaporatorCoil ? this.lowVolume : this.highVolume;
    for (const coil of [this.indoor, this.outdoor]) {
      const t = coil === this.indoor ? tIn : tOut;
      coil.p = p;
      coil.lightness = vapourDensity(s, Math.max(t - s.tDew, 0)) / s.rhoVapour;
      coil.mass = coil.lightness * s.rhoVapour * volume(coil);
    }
    this.hLine = vapourEnthalpy(s, Math.max(tOut - s.tDew, 0));
    this.lineMass = this.design.liquidLine_m3 * densityOf(s, this.hLine);
    const rest = this.expected - this.charge;
    const cold = coldIn ? this.indoor : this.outdoor;
    const warm = coldIn ? this.outdoor : this.indoor;
    const most = 0.85 * cold.design.volume_m3 * (s.rhoLiquid - s.rhoVapour);
    cold.mass += Math.min(rest, most);
    warm.mass += Math.max(rest - most, 0);
    this.condenserCoil.gas_mol = GAS_AT_FULL * this.faults.nonCondensables * this.baseCharge;
    this.pMid = p;
    this.h1 = s.hVapour;
    this.evaporator.hVapour = s.hVapour;
    this.evaporator.tVapour = s.tDew;
    this.evaporator.tOutlet = s.tDew;
  }

  /** Advances by dt seconds to time t. */
  step(t: number, dt: number): void {
    this.t = t;
    this.fluid.saturation(this.evaporatorCoil.p, this.low);
    this.fluid.saturation(this.condenserCoil.p, this.high);
    faultsAt(this.spec.faults, t, this.faults);
    this.stepControl(t, dt);
    this.stepForeignGas();
    this.stepAirStreams(dt);
    this.stepRefrigerant(dt);
    this.stepAirBehind(t, dt);
  }

  private stepControl(t: number, dt: number): void {
    this.control.step(
      t,
      dt,
      {
        suctionPressure: this.low.p,
        dischargePressure: this.high.p + this.pForeign,
        tOutdoorCoil: this.outdoor.meanWall,
        frostIndoor: this.indoor.frostMass,
      },
      this.faults,
    );
    const o = this.control.orders;
    const aim = o.compressor ? 1 : 0;
    this.speed += (aim - this.speed) * Math.min(1, dt / (aim > 0 ? 0.5 : 0.25));
    if (this.speed < 1e-3) this.speed = 0;
    if (o.heating !== this.reversed) this.reverse();
  }

  /** The reversing valve: the coils change roles, the spaces at the compressor stay where they are. */
  private reverse(): void {
    const suction =
      this.evaporatorCoil.lightness * this.low.rhoVapour * this.design.suctionSpace_m3;
    const discharge =
      this.condenserCoil.lightness * this.high.rhoVapour * this.design.dischargeSpace_m3;
    this.evaporatorCoil.mass += discharge - suction;
    this.condenserCoil.mass += suction - discharge;
    this.reversed = !this.reversed;
    this.fluid.saturation(this.evaporatorCoil.p, this.low);
    this.fluid.saturation(this.condenserCoil.p, this.high);
    this.condenser.desuperheating = 0;
  }

  private stepForeignGas(): void {
    const coil = this.condenserCoil;
    const total = GAS_AT_FULL * this.faults.nonCondensables * this.baseCharge;
    const had = coil.gas_mol + this.evaporatorCoil.gas_mol;
    if (total !== had) {
      this.evaporatorCoil.gas_mol = 0;
      coil.gas_mol = total;
    }
    if (total <= 0) {
      this.pForeign = 0;
      return;
    }
    const liquid = Math.max(coil.liquid(this.high, this.highVolume), 0);
    const space = Math.max(this.highVolume - liquid / this.high.rhoLiquid, 0.08 * this.highVolume);
    this.pForeign = (total * GAS_CONSTANT * this.high.tDew) / space;
  }

  private stepAirStreams(dt: number): void {
    const o = this.control.orders;
    const f = this.faults;
    const near = (now: number, aim: number): number => now + (aim - now) * Math.min(1, dt / 3);
    // Fan against filter, coil and duct: quadratic losses, falling fan curve (nominal losses add to 1).
    const filter = 0.25 * (1 + 60 * f.lowIndoorAir * f.lowIndoorAir);
    const icedIn = 0.3 / Math.pow(1 - this.indoor.blocked, 3);
    const indoorAim = o.indoorFan * Math.sqrt(1.8 / (0.8 + filter + icedIn + 0.45));
    this.indoorShare = near(this.indoorShare, indoorAim);
    const icedOut = 1 / Math.pow(1 - this.outdoor.blocked, 3);
    const outdoorAim =
      (o.outdoorFan ? Math.sqrt(1.5 / (0.5 + icedOut)) : 0) / (1 + 1.1 * f.fouledOutdoorCoil);
    this.outdoorShare = near(this.outdoorShare, outdoorAim);
    const r = this.room;
    const w = this.weather;
    const fill = (
      a: AirStream,
      t: number,
      wr: number,
      tDew: number,
      share: number,
      nominal: number,
      clean: number,
    ): void => {
      a.t = t;
      a.w = wr;
      a.tDew = tDew;
      a.share = share;
      a.flow = share * nominal * airDensity(t, wr, a.p);
      a.clean = clean;
    };
    fill(
      this.indoorAir,
      r.tReturn,
      r.w,
      r.tDew,
      this.indoorShare,
      this.design.indoor.airflow_m3_s,
      1,
    );
    fill(
      this.outdoorAir,
      w.t,
      w.w,
      w.tDew,
      this.outdoorShare,
      this.design.outdoor.airflow_m3_s,
      1 - 0.35 * f.fouledOutdoorCoil,
    );
  }

  private stepRefrigerant(dt: number): void {
    const d = this.design;
    const evap = this.evaporatorCoil;
    const cond = this.condenserCoil;
    const { low, high, compressor: c, faults: f } = this;
    const pHigh = high.p + this.pForeign;
    // Compressor and what joins its suction.
    const relSuction = c.swept / d.flow_kg_s;
    const atSuction = this.fluid.saturation(
      low.p - SUCTION_LOSS * relSuction * relSuction,
      this.scratch,
    );
    const oil = this.oilReturn(c.swept, dt);
    const hot = rootFlow(
      vapourDensity(high, 20),
      pHigh - low.p,
      d.valveArea_m2 * 0.7 * f.reversingValveLeak,
    );
    const crossing = this.speed > 0 ? Math.min(hot, 0.5 * c.swept) : hot;
    this.runCompressor(atSuction, oil, crossing);
    const seep = rootFlow(
      vapourDensity(high, 5),
      pHigh - low.p,
      d.valveArea_m2 * (this.speed > 0 ? 0 : 0.003 + 0.1 * f.compressorValveLeak),
    );
    const drawn = Math.max(c.swept - oil - crossing, 0);
    const delivered = c.delivered - Math.max(crossing, 0) + Math.min(crossing, 0);
    const hDischarge = this.stepBody(c.delivered, dt);
    // Liquid line and metering.
    this.stepLineAndValve(pHigh, dt);
    const valve = Math.max(this.flowValve, 0);
    const back = Math.max(-this.flowValve, 0);

    evaporate(
      evap,
      low,
      this.lowVolume,
      valve,
      this.hLine,
      drawn,
      d.flow_kg_s,
      this.reversed ? this.outdoorAir : this.indoorAir,
      dt,
      this.evaporator,
    );
    const foreign = this.pForeign / pHigh;
    const into = Math.max(delivered, 0);
    condense(
      cond,
      high,
      this.highVolume,
      into,
      hDischarge,
      this.flowCondenser,
      d.flow_kg_s,
      1 / (1 + 3 * foreign),
      this.reversed ? this.indoorAir : this.outdoorAir,
      dt,
      this.condenser,
    );
    cond.heat += into * this.condenser.hVapourLeft;

    // Balances.
    const xIn = qualityOf(low, this.hLine);
    evap.heat -= valve * Math.max(low.hLiquid - this.hLine, 0);
    const e = this.evaporator;
    const carried = Math.min((drawn * (1 - e.quality)) / e.quality, 3 * d.flow_kg_s);
    const boiled = this.stepAccumulator(carried, oil, evap, dt);
    const fault = this.chargeFlow(dt);
    const stopped = this.speed > 0 ? 0 : crossing;
    evap.stepPressure(
      low,
      this.lowVolume,
      {
        vapour: valve * xIn - drawn - back + boiled + seep + stopped + Math.min(fault, 0),
        liquid: valve * (1 - xIn) - carried + Math.max(fault, 0),
      },
      drawn / low.p,
      this.accumulator,
      dt,
    );
    const out = this.flowCondenser;
    const xOut = out >= 0 ? this.condenser.quality : qualityOf(high, this.hLine);
    cond.stepPressure(
      high,
      this.highVolume,
      {
        vapour: into - out * xOut + back - seep - stopped,
        liquid: -out * (1 - xOut),
      },
      0,
      0,
      dt,
    );
    this.keepInside(evap);
    this.keepInside(cond);
    this.stepSuctionPipe(drawn, dt);
  }

  /** Pressures stay inside the property tables; far outside any switch has long acted. */
  private keepInside(coil: Coil): void {
    coil.p = Math.min(Math.max(coil.p, this.fluid.pMin), this.fluid.pMax);
  }

  private runCompressor(
    atSuction: Readonly<typeof this.scratch>,
    oil: number,
    crossing: number,
  ): void {
    const c = this.compressor;
    if (this.speed <= 0) {
      c.swept = 0;
      c.delivered = 0;
      c.power = 0;
      c.hDischarge = this.h1;
      return;
    }
    const d = this.design;
    const total = Math.max(c.swept, 0.02 * d.flow_kg_s);
    const gain = this.suctionGain / total;
    const hot = Math.max(crossing, 0);
    const h =
      (Math.max(total - oil - hot, 0) * (this.evaporator.hVapour + gain) +
        oil * this.low.hLiquid +
        hot * c.hDischarge) /
      total;
    this.h1 = Math.min(Math.max(h, atSuction.hLiquid), atSuction.hVapour + 70_000);
    const pDischarge = this.high.p + this.pForeign + DISCHARGE_LOSS * (total / d.flow_kg_s) ** 2;
    this.fluid.saturation(pDischarge, this.dischargeState);
    compress(
      atSuction,
      this.dischargeState,
      this.h1,
      d.swept_m3_s * this.speed,
      this.faults.compressorValveLeak,
      c,
    );
  }

  readonly dischargeState = emptySaturation();

  /** Oil and liquid drawn from the accumulator or shell, kg/s. */
  private oilReturn(swept: number, dt: number): number {
    const most = 0.75 * this.design.accumulator_m3 * this.low.rhoLiquid;
    const over = Math.max(this.accumulator - most, 0) / 2;
    const wanted = this.accumulator * this.design.oilReturn_1_s + over;
    return Math.min(wanted, 0.4 * swept, this.accumulator / dt);
  }

  /** Liquid at rest at the compressor: boils or condenses by its surroundings and by the pressure. */
  private stepAccumulator(carried: number, oil: number, evap: Coil, dt: number): number {
    const low = this.low;
    const latent = low.hVapour - low.hLiquid;
    const around = this.weather.t + 0.3 * Math.max(this.tBody - this.weather.t, 0);
    const warm = 14 * (this.design.accumulator_m3 / 0.9e-3);
    let boiled = (warm * (around - low.tDew)) / latent;
    const room = 0.9 * this.design.accumulator_m3 * low.rhoLiquid - this.accumulator;
    const free = Math.max(evap.mass - low.rhoVapour * this.lowVolume * 0.5, 0);
    boiled = Math.min(boiled, this.accumulator / dt + carried - oil);
    boiled = Math.max(boiled, -Math.max(room, 0) / 20, -free / 20);
    this.accumulator += (carried - oil - boiled) * dt;
    return boiled;
  }

  /** Puts refrigerant in (or takes it out) at once; for commissioning only, kg. */
  addCharge(mass: number): void {
    this.condenserCoil.mass += mass;
    this.expected += mass;
  }

  /** Refrigerant through the port (event) or lost and gained by a charge fault, kg/s. */
  private chargeFlow(dt: number): number {
    const aim = this.chargeByFault();
    const slow = 0.02;
    const byFault = Math.min(Math.max((aim - this.faultCharge) / dt, -slow), slow);
    this.faultCharge += byFault * dt;
    const total = byFault + this.control.orders.charging_kg_s;
    const least = 0.05 * this.baseCharge;
    const flow = total < 0 && this.charge < least ? 0 : total;
    this.expected += flow * dt;
    if (flow !== 0) this.charged += this.control.orders.charging_kg_s * dt;
    return flow;
  }

  /** The discharge gas warms the compressor body, the body its surroundings. */
  private stepBody(flow: number, dt: number): number {
    const d = this.design;
    const high = this.high;
    const tAround = this.weather.t;
    const k = d.body_J_K / 7000;
    let h = this.compressor.hDischarge;
    const loss = 4 * k * (this.tBody - tAround);
    let gained = 0;
    if (flow > 1e-5) {
      const superheat = superheatOf(high, h);
      const tGas = high.tDew + superheat;
      const effect = bodyEffectiveness(flow, 42 * k, high);
      gained = flow * vapourCp(high, superheat) * effect * (tGas - this.tBody);
      h = Math.max(h - gained / flow, high.hVapour);
      gained = (this.compressor.hDischarge - h) * flow;
      const tOut = high.tDew + superheatOf(high, h);
      this.tDischarge += (tOut - this.tDischarge) * Math.min(1, dt / 6);
    } else {
      this.tDischarge += (this.tBody - this.tDischarge) * Math.min(1, dt / 60);
    }
    this.bodyLoss = loss;
    this.tBody += ((gained - loss) / d.body_J_K) * dt;
    return h;
  }

  private stepLineAndValve(pHigh: number, dt: number): void {
    const d = this.design;
    const { low, high, faults: f } = this;
    const rel = this.flowValve / d.flow_kg_s;
    const loss =
      (LINE_LOSS + RESTRICTION_LOSS * f.liquidLineRestriction * f.liquidLineRestriction) *
      rel *
      rel;
    const aim = Math.max(pHigh - loss, Math.min(low.p, pHigh));
    this.pMid += (aim - this.pMid) * Math.min(1, dt / 0.8);
    const up = this.fluid.saturation(this.pMid, this.valveState);
    this.element.step(
      {
        running: this.speed > 0,
        tPipe: this.speed > 0 ? this.evaporator.tOutlet : this.evaporatorCoil.meanWall,
        tDew: low.tDew,
        p: low.p,
        bulbError_K: 12 * f.valveOverfeeding,
        slower: 1 + 1.5 * f.valveHunting,
        held: f.valveStuck > 0,
      },
      this.valve,
      dt,
    );
    const starving = 1 - 0.8 * f.valveStarved;
    const fixed = this.spec.metering.kind === 'fixed';
    const loose = fixed ? 1 + f.valveOverfeeding : 1;
    const area =
      this.valve.area_m2 * this.element.areaFactor(1 + 2.2 * f.valveHunting) * starving * loose;
    this.flowValve = Math.min(
      meteredFlow(this.fluid, up, this.pMid, this.hLine, low.p, area, fixed),
      4 * d.flow_kg_s,
    );
    if (this.flowValve > 0) {
      this.flowValve = Math.min(this.flowValve, this.lineMass / (2 * dt));
    } else {
      this.flowValve = Math.max(this.flowValve, -0.5 * d.flow_kg_s);
    }
    // The line stays full: what the valve takes and what density asks comes from the condenser.
    const content = d.liquidLine_m3 * densityOf(high, this.hLine);
    const wanted = Math.max(this.flowValve, 0) + (content - this.lineMass) / 2;
    const cond = this.condenserCoil;
    const out = Math.min(
      Math.max(wanted, -0.5 * d.flow_kg_s),
      4 * d.flow_kg_s,
      cond.mass / (4 * dt),
    );
    this.flowCondenser = out;
    const tLine = this.lineTemperature();
    this.lineGain = LIQUID_PIPE_W_K * (this.weather.t - tLine);
    const thermal = Math.max(this.lineMass, 0.02) + 0.25;
    const brought = Math.max(out, 0) * (this.condenser.h - this.hLine);
    this.hLine += ((brought + this.lineGain) / thermal) * dt;
    this.lineMass += (out - Math.max(this.flowValve, 0)) * dt;
    this.tLiquid = tLine;
  }

  readonly valveState = emptySaturation();

  /** Temperature in the liquid line at the pressure of the condenser, K. */
  private lineTemperature(): number {
    const s = this.high;
    if (this.hLine <= s.hLiquid) return s.tBubble - subcoolingOf(s, this.hLine);
    if (this.hLine >= s.hVapour) return s.tDew + superheatOf(s, this.hLine);
    return s.tBubble + (s.tDew - s.tBubble) * qualityOf(s, this.hLine);
  }

  private stepSuctionPipe(drawn: number, dt: number): void {
    const metal = 130 * this.spec.lineSet.length_m;
    const around = this.weather.t;
    const k = this.design.suctionLine_W_K;
    const tGas = this.evaporator.tOutlet;
    if (drawn > 1e-5) {
      const capacity = drawn * vapourCp(this.low, tGas - this.low.tDew);
      const effect = 1 - Math.exp(-SUCTION_PIPE_W_K / capacity);
      const q = capacity * effect * (this.tSuctionPipe - tGas);
      this.suctionGain = q;
      const sum = metal / dt + capacity * effect + k;
      this.tSuctionPipe =
        ((metal / dt) * this.tSuctionPipe + capacity * effect * tGas + k * around) / sum;
    } else {
      this.suctionGain = 0;
      this.tSuctionPipe += (around - this.tSuctionPipe) * Math.min(1, dt / 600);
    }
  }

  /** Supply duct and room. */
  private stepAirBehind(t: number, dt: number): void {
    const a = this.indoorAir;
    const coil = this.indoor.air;
    const k = this.design.indoor.airflow_m3_s / 0.566;
    const fan = 380 * k * Math.pow(this.indoorShare, 3);
    const flow = Math.max(a.flow, 0.03 * this.design.indoor.airflow_m3_s * 1.15);
    const capacity = flow * CP_AIR;
    const leaving = a.t - coil.sensible / capacity + fan / capacity;
    const wLeaving = Math.max(a.w - coil.water / flow, 1e-5);
    const duct = 26_000 * k;
    const effect = 1 - Math.exp((-450 * k) / capacity);
    const q = capacity * effect * (leaving - this.tDuct);
    this.tDuct += (q / duct) * dt;
    const aim = leaving - q / capacity;
    this.tSupply += (aim - this.tSupply) * Math.min(1, dt / 6);
    this.wSupply += (wLeaving - this.wSupply) * Math.min(1, dt / 6);
    const heat = capacity * (aim - a.t);
    const moving = a.share > 0.02 ? 1 : 0;
    this.room.step(
      t,
      this.weather,
      heat * moving,
      coil.water * moving,
      this.control.orders.door_m3_s,
      dt,
    );
  }
}
