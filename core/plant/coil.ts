import type { Saturation } from './fluid.ts';
import {
  CP_AIR,
  FREEZING,
  ICE_MELTING,
  WATER_EVAPORATION,
  saturatedHumidityRatio,
} from './psychro.ts';
import type { CoilDesign } from './sizing.ts';

/** Pieces of a coil along the refrigerant path. */
export const CELLS = 8;
/** Frost: density and conductivity of a fresh layer (from memory; growing frost ranges 100-400 kg/m3). */
const FROST_DENSITY = 260;
const FROST_CONDUCTIVITY = 0.25;
const NO_FROST = 1e-6;
/** Still air passes about this share of the nominal flow by buoyancy. */
const STILL_AIR = 0.03;

/** Air entering a coil and its flow. */
export interface AirStream {
  t: number;
  /** Humidity ratio, kg/kg, dew point K, total pressure Pa. */
  w: number;
  tDew: number;
  p: number;
  /** Dry air, kg/s. */
  flow: number;
  /** Flow as a share of nominal, for the heat transfer coefficient. */
  share: number;
  /** Fouling of the surface: factor on the air-side conductance. */
  clean: number;
}

/** What the air did in this step. */
export interface AirSide {
  /** Sensible heat and moisture given to the coil, W and kg/s. */
  sensible: number;
  water: number;
  latent: number;
}

/**
 * One heat exchanger: eight pieces of wall along the refrigerant path, frost on each, and the
 * refrigerant inside as one vessel with a pressure and a mass. The zones (superheated, two-phase,
 * subcooled) follow from that mass; see evaporate.ts and condense.ts.
 */
export class Coil {
  readonly design: CoilDesign;
  readonly wall = new Float64Array(CELLS);
  readonly surface = new Float64Array(CELLS);
  readonly frost = new Float64Array(CELLS);
  readonly air: AirSide = { sensible: 0, water: 0, latent: 0 };
  /** Refrigerant, kg, and its saturation pressure, Pa. */
  mass = 0;
  p = 0;
  /** Mean vapour density over saturated vapour density (superheated parts are lighter). */
  lightness = 1;
  /** Heat into the two-phase refrigerant and its conductance, W and W/K. */
  heat = 0;
  conductance = 0;
  /** Heat into the refrigerant in all zones, W. */
  heatTotal = 0;
  private kAir = 0;
  private moist = 0;

  constructor(design: CoilDesign, t: number) {
    this.design = design;
    this.wall.fill(t);
    this.surface.fill(t);
  }

  /** Ice on the coil, kg. */
  get frostMass(): number {
    let sum = 0;
    for (let i = 0; i < CELLS; i += 1) sum += this.frost[i] ?? 0;
    return sum;
  }

  /** Share of the clear width between fins that ice has closed, 0..0.98. */
  get blocked(): number {
    const thickness = this.frostMass / (FROST_DENSITY * this.design.finArea_m2);
    return Math.min(0.98, thickness / this.design.halfGap_m);
  }

  /** Coldest surface, K. */
  get coldest(): number {
    let low = this.surface[0] ?? 0;
    for (let i = 1; i < CELLS; i += 1) low = Math.min(low, this.surface[i] ?? low);
    return low;
  }

  /** Coldest piece of wall, K. */
  get coldestWall(): number {
    let low = this.wall[0] ?? 0;
    for (let i = 1; i < CELLS; i += 1) low = Math.min(low, this.wall[i] ?? low);
    return low;
  }

  /** Mean wall temperature, K. */
  get meanWall(): number {
    let sum = 0;
    for (let i = 0; i < CELLS; i += 1) sum += this.wall[i] ?? 0;
    return sum / CELLS;
  }

  /** Prepares the air side of this step and clears its sums. */
  beginStep(air: AirStream): void {
    const flow = Math.max(air.flow, STILL_AIR * this.design.airflow_m3_s * 1.15);
    const share = Math.max(air.share, STILL_AIR);
    const capacity = flow * CP_AIR;
    const ua = this.design.air_W_K * Math.pow(share, 0.6) * air.clean;
    const contact = 1 - Math.exp(-ua / capacity);
    this.kAir = (capacity * contact) / CELLS;
    this.moist = (flow * contact) / CELLS;
    this.air.sensible = 0;
    this.air.water = 0;
    this.air.latent = 0;
    this.heat = 0;
    this.heatTotal = 0;
    this.conductance = 0;
  }

  /**
   * Advances the wall of piece `i`: implicit in its own temperature, so any step is stable.
   *
   * @param k1 conductance to the two-phase refrigerant at `t1`
   * @param k2 conductance to the single-phase refrigerant entering at `t2`
   * @returns the new wall temperature
   */
  stepWall(
    i: number,
    k1: number,
    t1: number,
    k2: number,
    t2: number,
    air: AirStream,
    dt: number,
  ): number {
    const store = this.design.wall_J_K / CELLS / dt;
    const t = this.wall[i] ?? 0;
    const ice = this.frost[i] ?? 0;
    const inside = store * t + k1 * t1 + k2 * t2;
    if (ice > NO_FROST) return this.stepIced(i, store + k1 + k2, inside, ice, air, dt);
    const water = t < air.tDew ? this.moist * (air.w - saturatedHumidityRatio(t, air.p)) : 0;
    const latent = water * (t < FREEZING ? WATER_EVAPORATION + ICE_MELTING : WATER_EVAPORATION);
    const next = (inside + this.kAir * air.t + latent) / (store + k1 + k2 + this.kAir);
    this.wall[i] = next;
    this.surface[i] = next;
    if (water > 0 && t < FREEZING) this.frost[i] = ice + water * dt;
    this.air.sensible += this.kAir * (air.t - next);
    this.air.water += water;
    this.air.latent += latent;
    return next;
  }

  /** A piece under ice: the air meets the ice, the ice the wall; ice at 0 °C melts. */
  private stepIced(
    i: number,
    sum: number,
    inside: number,
    ice: number,
    air: AirStream,
    dt: number,
  ): number {
    const area = this.design.finArea_m2 / CELLS;
    const thickness = ice / (FROST_DENSITY * area);
    const bond = Math.min((FROST_CONDUCTIVITY * area) / thickness, 200 * this.kAir + 100);
    const old = Math.min(this.surface[i] ?? FREEZING, FREEZING);
    const water = old < air.tDew ? this.moist * (air.w - saturatedHumidityRatio(old, air.p)) : 0;
    const freezing = old < FREEZING - 1e-6;
    const latent = water * (freezing ? WATER_EVAPORATION + ICE_MELTING : WATER_EVAPORATION);
    // Ice surface in balance with air and wall; eliminated from the implicit step of the wall.
    const share = bond / (this.kAir + bond);
    const fromAir = this.kAir * air.t + latent;
    let next = (inside + share * fromAir) / (sum + share * this.kAir);
    let aim = (fromAir + bond * next) / (this.kAir + bond);
    let after = ice + (freezing ? water * dt : 0);
    if (aim >= FREEZING) {
      aim = FREEZING;
      next = (inside + bond * FREEZING) / (sum + bond);
      const melting = fromAir - this.kAir * FREEZING + bond * (next - FREEZING);
      after -= (Math.max(melting, 0) / ICE_MELTING) * dt;
    }
    // Smoothed, for the deposition that depends on it steeply.
    const surface = aim >= FREEZING ? aim : old + (aim - old) * Math.min(1, dt / 0.5);
    this.frost[i] = Math.max(after, 0);
    this.wall[i] = next;
    this.surface[i] = surface;
    this.air.sensible += this.kAir * (air.t - surface);
    this.air.water += water;
    this.air.latent += latent;
    return next;
  }

  /** Saturated liquid in the vessel, kg; negative where the vapour is superheated throughout. */
  liquid(s: Saturation, volume: number): number {
    const vapour = this.lightness * s.rhoVapour;
    return (this.mass - vapour * volume) / (1 - vapour / s.rhoLiquid);
  }

  /**
   * Advances pressure and mass of the vessel: balances of liquid and of vapour, with the heat that
   * the liquid itself stores or sets free when its saturation temperature moves.
   *
   * @param volume vapour and liquid space, m3
   * @param flows vapour and liquid flows in minus out, kg/s
   * @param pump d(outgoing vapour flow)/dp: what the compressor takes more when the pressure rises
   * @param stored extra liquid that shares this pressure (accumulator), kg
   */
  stepPressure(
    s: Saturation,
    volume: number,
    flows: { vapour: number; liquid: number },
    pump: number,
    stored: number,
    dt: number,
  ): void {
    const liquid = this.liquid(s, volume);
    const latent = s.hVapour - s.hLiquid;
    const ratio = s.rhoVapour / s.rhoLiquid;
    if (liquid > 0) {
      const space = Math.max(volume - liquid / s.rhoLiquid, 0.02 * volume);
      const flash = ((1 - ratio) * (liquid + stored) * s.cpLiquid * s.slope) / latent;
      const stiff = s.rhoSlope * space + flash;
      const damp = ((1 - ratio) * this.conductance * s.slope) / latent + pump;
      const net = flows.vapour + ratio * flows.liquid + ((1 - ratio) * this.heat) / latent;
      this.p += (net * dt) / (stiff + damp * dt);
    } else {
      const holds = this.mass / (this.lightness * s.rhoVapour * volume);
      this.p *= 1 + Math.min(Math.max(holds - 1, -0.3), 0.3) * Math.min(1, dt / 0.4);
    }
    this.mass += (flows.vapour + flows.liquid) * dt;
  }
}
