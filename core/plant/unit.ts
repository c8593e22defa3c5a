import { AirPath } from './air-path.ts';
import { Room, type Weather } from './air.ts';
import { Coil } from './coil.ts';
import { compress, idleCompressor } from './compressor.ts';
import { condense, restingCondenser } from './condense.ts';
import { Control } from './control.ts';
import { evaporate, restingEvaporator } from './evaporate.ts';
import { CHARGE_AT_FULL, GAS_AT_FULL, faultsAt, healthy } from './faults.ts';
import {
  densityOf,
  emptySaturation,
  qualityOf,
  vapourDensity,
  vapourEnthalpy,
  type PlantFluid,
  type Saturation,
} from './fluid.ts';
import { LiquidLine } from './liquid-line.ts';
import { CompressorBody, SuctionPipe } from './pipes.ts';
import type { UnitSpec } from './scenario.ts';
import { DISCHARGE_LOSS, SUCTION_LOSS, type UnitDesign } from './sizing.ts';
import { MeteringElement, rootFlow, type ValveSettings } from './valve.ts';

/** Port of a full valve-hunting fault over the ordinary port, minus 1. */
const HUNTING = 0.6;
/** Play of its sticking pin, as a share of full opening; an ordinary pin has hardly any. */
const STICKING = 0.1;
const ORDINARY_PLAY = 0.002;
/** Loss of condensing coefficient by the share of foreign gas (strong already at a few per cent; from memory). */
const FOREIGN_HINDRANCE = 60;
/** A heat pump meters heating through its own, smaller device. */
const HEATING_VALVE = 0.6;
const GAS_CONSTANT = 8.314462618;

/** What was found at the rating point: the charge and the valve setting that meet the nameplate. */
export interface Commissioned {
  readonly charge_kg: number;
  readonly valve: ValveSettings;
}

/** Side streams between the two pressures in one step, kg/s. */
interface SideStreams {
  /** Liquid and oil drawn from the accumulator. */
  oil: number;
  /** Hot gas through a leaking reversing valve. */
  crossing: number;
  /** High to low through the compressor at rest. */
  seep: number;
}

/**
 * One split system: two coils, compressor with its body, liquid line, suction pipe, accumulator,
 * metering element, controls, air paths and room. `step` advances all of it by one fixed time step;
 * the charge only moves between the places, so that their sum stays what was put in.
 */
export class UnitPlant {
  readonly spec: UnitSpec;
  readonly design: UnitDesign;
  readonly fluid: PlantFluid;
  readonly indoor: Coil;
  readonly outdoor: Coil;
  readonly room: Room;
  readonly weather: Weather;
  readonly air: AirPath;
  readonly control: Control;
  readonly element: MeteringElement;
  readonly valve: ValveSettings;
  readonly line: LiquidLine;
  readonly pipe: SuctionPipe;
  readonly body: CompressorBody;
  readonly faults = healthy();
  /** Saturation at the evaporating and at the condensing coil (without foreign gas). */
  readonly low = emptySaturation();
  readonly high = emptySaturation();
  readonly scratch = emptySaturation();
  readonly compressor = idleCompressor();
  readonly evaporator = restingEvaporator();
  readonly condenser = restingCondenser();
  /** True while the indoor coil is the condenser. */
  reversed: boolean;
  t = 0;
  /** Compressor speed as a share of nominal. */
  speed = 0;
  /** Liquid in the accumulator (or the sump of a shell), kg. */
  accumulator = 0;
  /** Charge that ought to be inside, kg; what went in through the port since the start, kg. */
  expected: number;
  charged = 0;
  /** Partial pressure of foreign gas in the condenser, Pa. */
  pForeign = 0;
  /** Heat from the surroundings that boils liquid at the compressor, W. */
  shellGain = 0;
  private readonly dischargeState = emptySaturation();
  private readonly flows = { vapour: 0, liquid: 0 };
  private readonly baseCharge: number;
  private faultCharge = 0;
  private h1 = 0;

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
    this.air = new AirPath(design, this.room, weather);
    this.indoor = new Coil(design.indoor, this.room.t);
    this.outdoor = new Coil(design.outdoor, weather.t);
    this.control = new Control(spec, seed, key, fluid.dewPressure(243), fluid.bubblePressure(339));
    this.element = new MeteringElement(spec.metering, fluid, design.slope_K_Pa, this.room.t);
    this.line = new LiquidLine(design, fluid, weather.t);
    this.pipe = new SuctionPipe(spec.lineSet.length_m, design.suctionLine_W_K, weather.t);
    this.body = new CompressorBody(design.body_J_K, weather.t);
    this.valve = { ...found.valve };
    this.reversed = spec.mode === 'heating';
    this.baseCharge = found.charge_kg;
    faultsAt(spec.faults, 0, this.faults);
    this.faultCharge = this.chargeByFault();
    this.expected = this.baseCharge + this.faultCharge;
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
    return this.indoor.mass + this.outdoor.mass + this.line.mass + this.accumulator;
  }

  /** Puts refrigerant in (or takes it out) at once, kg; for commissioning only. */
  addCharge(mass: number): void {
    this.condenserCoil.mass += mass;
    this.expected += mass;
  }

  /** Advances by dt seconds to time t. */
  step(t: number, dt: number): void {
    this.t = t;
    this.fluid.saturation(this.evaporatorCoil.p, this.low);
    this.fluid.saturation(this.condenserCoil.p, this.high);
    faultsAt(this.spec.faults, t, this.faults);
    this.stepControl(t, dt);
    this.stepForeignGas();
    this.air.stepStreams(this.control.orders, this.faults, this.indoor, this.outdoor, dt);
    this.stepRefrigerant(dt);
    this.air.stepBehind(t, this.indoor, this.control.orders, dt);
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
    const p = this.fluid.dewPressure(Math.min(tIn, tOut));
    const s = this.fluid.saturation(p, this.low);
    this.fluid.saturation(p, this.high);
    for (const coil of [this.indoor, this.outdoor]) {
      const t = coil === this.indoor ? tIn : tOut;
      coil.p = p;
      coil.lightness = vapourDensity(s, Math.max(t - s.tDew, 0)) / s.rhoVapour;
      const volume = coil === this.evaporatorCoil ? this.lowVolume : this.highVolume;
      coil.mass = coil.lightness * s.rhoVapour * volume;
    }
    this.line.h = vapourEnthalpy(s, Math.max(tOut - s.tDew, 0));
    this.line.mass = this.design.liquidLine_m3 * densityOf(s, this.line.h);
    this.line.pEnd = p;
    this.fluid.saturation(p, this.line.end);
    const rest = this.expected - this.charge;
    const cold = tIn <= tOut ? this.indoor : this.outdoor;
    const warm = cold === this.indoor ? this.outdoor : this.indoor;
    const most = 0.85 * cold.design.volume_m3 * (s.rhoLiquid - s.rhoVapour);
    cold.mass += Math.min(rest, most);
    warm.mass += Math.max(rest - most, 0);
    this.h1 = s.hVapour;
    this.evaporator.hVapour = s.hVapour;
    this.evaporator.tVapour = s.tDew;
    this.evaporator.tOutlet = s.tDew;
  }

  private stepControl(t: number, dt: number): void {
    this.control.step(
      t,
      dt,
      {
        suctionPressure: this.low.p,
        dischargePressure: this.high.p + this.pForeign,
        tOutdoorCoil: this.outdoor.coldestWall,
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

  /** Foreign gas does not condense: it collects in the condenser's vapour space and adds its pressure. */
  private stepForeignGas(): void {
    const amount = GAS_AT_FULL * this.faults.nonCondensables * this.baseCharge;
    if (amount <= 0) {
      this.pForeign = 0;
      return;
    }
    const liquid = Math.max(this.condenserCoil.liquid(this.high, this.highVolume), 0);
    const space = Math.max(this.highVolume - liquid / this.high.rhoLiquid, 0.08 * this.highVolume);
    this.pForeign = (amount * GAS_CONSTANT * this.high.tDew) / space;
  }

  private stepRefrigerant(dt: number): void {
    const d = this.design;
    const { low, high, compressor: c } = this;
    const pHigh = high.p + this.pForeign;
    const side = this.sideStreams(pHigh, dt);
    this.runCompressor(side);
    // What it draws changed with the start or stop in this step: the side streams follow.
    side.oil = Math.min(side.oil, 0.4 * c.swept);
    side.crossing = Math.min(side.crossing, 0.5 * c.swept);
    const drawn = c.swept - side.oil - side.crossing;
    const delivered = c.delivered - side.crossing;
    const hIn = this.body.step(c.delivered, c.hDischarge, high, this.weather.t, dt);
    this.stepMetering(pHigh, dt);
    const valve = Math.max(this.line.flow, 0);
    evaporate(
      this.evaporatorCoil,
      low,
      { volume: this.lowVolume, flowIn: valve, hIn: this.line.h, flowOut: drawn },
      d.flow_kg_s,
      this.reversed ? this.air.outdoor : this.air.indoor,
      dt,
      this.evaporator,
    );
    condense(
      this.condenserCoil,
      high,
      { volume: this.highVolume, flowIn: delivered, hIn, flowOut: this.line.entering },
      d.flow_kg_s,
      1 / (1 + (FOREIGN_HINDRANCE * this.pForeign) / pHigh),
      this.reversed ? this.air.indoor : this.air.outdoor,
      dt,
      this.condenser,
    );
    this.balanceLow(valve, drawn, side, dt);
    this.balanceHigh(delivered, side, dt);
    this.pipe.step(drawn, this.evaporator.tOutlet, low, this.weather.t, dt);
  }

  private sideStreams(pHigh: number, dt: number): SideStreams {
    const f = this.faults;
    const area = this.design.valveArea_m2;
    const { low, high, compressor: c } = this;
    const turning = this.speed > 0;
    const leak = area * 0.7 * f.reversingValveLeak;
    const crossing = turning
      ? Math.min(Math.max(rootFlow(vapourDensity(high, 20), pHigh - low.p, leak), 0), 0.5 * c.swept)
      : 0;
    const still = area * (0.003 + 0.1 * f.compressorValveLeak) + leak;
    const seep = turning ? 0 : rootFlow(vapourDensity(high, 5), pHigh - low.p, still);
    return { oil: this.oilReturn(c.swept, dt), crossing, seep };
  }

  private runCompressor(side: SideStreams): void {
    const c = this.compressor;
    if (this.speed <= 0) {
      c.swept = 0;
      c.delivered = 0;
      c.power = 0;
      c.hDischarge = this.h1;
      return;
    }
    const d = this.design;
    const rel = c.swept / d.flow_kg_s;
    const suction = this.fluid.saturation(this.low.p - SUCTION_LOSS * rel * rel, this.scratch);
    const total = Math.max(c.swept, 0.02 * d.flow_kg_s);
    const gas = Math.max(total - side.oil - side.crossing, 0);
    const mixed =
      (gas * (this.evaporator.hVapour + this.pipe.gain / total) +
        side.oil * this.low.hLiquid +
        side.crossing * c.hDischarge) /
      total;
    this.h1 = Math.min(Math.max(mixed, suction.hLiquid), suction.hVapour + 70_000);
    const pDischarge = this.high.p + this.pForeign + DISCHARGE_LOSS * rel * rel;
    const discharge: Saturation = this.fluid.saturation(pDischarge, this.dischargeState);
    compress(
      suction,
      discharge,
      this.h1,
      d.swept_m3_s * this.speed,
      this.faults.compressorValveLeak,
      c,
    );
  }

  private stepMetering(pHigh: number, dt: number): void {
    const { low, high, faults: f } = this;
    this.line.stepPressure(pHigh, low.p, f.liquidLineRestriction, dt);
    const running = this.speed > 0;
    this.element.step(
      {
        running,
        tPipe: running ? this.evaporator.tOutlet : this.evaporatorCoil.meanWall,
        tDew: low.tDew,
        p: low.p,
        bulbError_K: 12 * f.valveOverfeeding,
        larger: 1 + HUNTING * f.valveHunting,
        held: f.valveStuck > 0,
        play: ORDINARY_PLAY + STICKING * f.valveHunting,
      },
      this.valve,
      dt,
    );
    const fixed = this.spec.metering.kind === 'fixed';
    const worn = (1 - 0.8 * f.valveStarved) * (fixed ? 1 + f.valveOverfeeding : 1);
    const size = this.valve.area_m2 * (this.reversed ? HEATING_VALVE : 1);
    const area = size * this.element.areaFactor(1 + HUNTING * f.valveHunting) * worn;
    this.line.stepFlow(
      high,
      low.p,
      area,
      fixed,
      { mass: this.condenserCoil.mass, h: this.condenser.h },
      this.weather.t,
      dt,
    );
  }

  private balanceLow(valve: number, drawn: number, side: SideStreams, dt: number): void {
    const coil = this.evaporatorCoil;
    const { low, evaporator: e } = this;
    const xIn = qualityOf(low, this.line.h);
    coil.heat -= valve * Math.max(low.hLiquid - this.line.h, 0);
    const carried = Math.min(
      (drawn * (1 - e.quality)) / e.quality,
      3 * this.design.flow_kg_s,
      Math.max(coil.mass, 0) / (4 * dt),
    );
    const boiled = this.stepAccumulator(carried, side.oil, coil, dt);
    const port = this.portFlow(dt);
    const back = Math.max(-this.line.flow, 0);
    this.flows.vapour = valve * xIn - drawn - back + boiled + side.seep + Math.min(port, 0);
    this.flows.liquid = valve * (1 - xIn) - carried + Math.max(port, 0);
    coil.stepPressure(low, this.lowVolume, this.flows, drawn / low.p, this.accumulator, dt);
    this.keepInside(coil);
  }

  private balanceHigh(delivered: number, side: SideStreams, dt: number): void {
    const coil = this.condenserCoil;
    const out = this.line.entering;
    const back = Math.max(-this.line.flow, 0);
    const quality = out >= 0 ? this.condenser.quality : qualityOf(this.high, this.line.h);
    coil.heat += delivered * this.condenser.hVapourLeft;
    this.flows.vapour = delivered - out * quality + back - side.seep;
    this.flows.liquid = -out * (1 - quality);
    coil.stepPressure(this.high, this.highVolume, this.flows, 0, 0, dt);
    this.keepInside(coil);
  }

  /** Pressures stay inside the property tables; the safety switches act long before their ends. */
  private keepInside(coil: Coil): void {
    coil.p = Math.min(Math.max(coil.p, this.fluid.pMin), this.fluid.pMax);
  }

  /** Oil and liquid drawn from the accumulator or shell, kg/s. */
  private oilReturn(swept: number, dt: number): number {
    const most = 0.75 * this.design.accumulator_m3 * this.low.rhoLiquid;
    const over = Math.max(this.accumulator - most, 0) / 2;
    const wanted = this.accumulator * this.design.oilReturn_1_s + over;
    return Math.min(wanted, 0.4 * swept, this.accumulator / dt);
  }

  /** Liquid at the compressor: boils or condenses by its surroundings. Returns what boils, kg/s. */
  private stepAccumulator(carried: number, oil: number, evap: Coil, dt: number): number {
    const low = this.low;
    const latent = low.hVapour - low.hLiquid;
    const around = this.weather.t + 0.3 * Math.max(this.body.t - this.weather.t, 0);
    const warm = 9 * (this.design.accumulator_m3 / 0.9e-3);
    const space = 0.9 * this.design.accumulator_m3 * low.rhoLiquid - this.accumulator;
    const free = Math.max(evap.mass - low.rhoVapour * this.lowVolume * 0.5, 0);
    const most = this.accumulator / dt + carried - oil;
    const wanted = Math.min((warm * (around - low.tDew)) / latent, most);
    const boiled = Math.max(wanted, -Math.max(space, 0) / 20, -free / 20);
    this.accumulator += (carried - oil - boiled) * dt;
    this.shellGain = boiled * latent;
    return boiled;
  }

  /** Refrigerant through the port (event), or lost and gained by a charge fault, kg/s. */
  private portFlow(dt: number): number {
    const most = 0.02;
    const byFault = Math.min(Math.max((this.chargeByFault() - this.faultCharge) / dt, -most), most);
    const ordered = this.control.orders.charging_kg_s;
    if (byFault + ordered < 0 && this.charge < 0.05 * this.baseCharge) return 0;
    this.faultCharge += byFault * dt;
    this.charged += ordered * dt;
    this.expected += (byFault + ordered) * dt;
    return byFault + ordered;
  }
}
