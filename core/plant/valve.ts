import { CHOKE } from './sizing.ts';
import type { MeteringSpec } from './scenario.ts';
import { subcoolingOf, type PlantFluid, type Saturation } from './fluid.ts';

/**
 * Flow through a metering device or any restriction, kg/s.
 *
 * A fixed orifice with subcooled liquid chokes where the liquid flashes: the downstream pressure
 * counts no lower than `CHOKE` times the bubble pressure of the entering liquid (form of Aaron and
 * Domanski 1990 for short tubes, the constant simplified), so its flow rises with upstream
 * pressure and subcooling and hardly depends on the evaporating pressure. Flash gas at the inlet
 * lowers the density that passes (homogeneous mixture).
 *
 * @param up saturation at the upstream pressure
 * @param pUp upstream total pressure, Pa
 * @param h upstream enthalpy, J/kg
 * @param area area times discharge coefficient, m2
 */
export function meteredFlow(
  fluid: PlantFluid,
  up: Saturation,
  pUp: number,
  h: number,
  pDown: number,
  area: number,
  choked: boolean,
): number {
  let density = up.rhoLiquid;
  let floor = pDown;
  if (h > up.hLiquid) {
    const x = Math.min((h - up.hLiquid) / (up.hVapour - up.hLiquid), 1);
    density = 1 / (x / up.rhoVapour + (1 - x) / up.rhoLiquid);
    if (choked) floor = Math.max(pDown, CHOKE * up.p);
    else floor = Math.max(pDown, 0.5 * up.p);
  } else if (choked) {
    const t = up.tBubble - subcoolingOf(up, h);
    floor = Math.max(pDown, CHOKE * fluid.bubblePressure(t));
  }
  return rootFlow(density, pUp - floor, area);
}

/** Orifice law made linear below 5 kPa, so that equalising pressures do not ring. */
export function rootFlow(density: number, difference: number, area: number): number {
  const size = Math.abs(difference);
  return (area * Math.sqrt(2 * density) * difference) / Math.sqrt(size + 5000);
}

/** What the thermostatic or electronic element sees. */
export interface ValveInputs {
  readonly running: boolean;
  /** Temperature of the suction pipe at the evaporator outlet, K. */
  readonly tPipe: number;
  readonly tDew: number;
  readonly p: number;
  /** Disturbances by faults: bulb reads this much warm, K; port larger by this factor; held still. */
  readonly bulbError_K: number;
  readonly larger: number;
  readonly held: boolean;
  /** Half width of the play of a sticking pin, as a share of full opening. */
  readonly play: number;
}

/** Settings found at the rating point. */
export interface ValveSettings {
  /** Superheat at which the valve begins to open (spring) or that it controls to, K. */
  spring_K: number;
  /** Metering area at the rating point, m2. */
  area_m2: number;
}

/**
 * The moving part of a metering device. Thermostatic: the bulb follows the pipe with a lag, the
 * difference of its pressure to the evaporator's (external equaliser) works against the spring,
 * and the opening follows in about a second and a half. Electronic: a PI controller on the sensed
 * superheat, one step per period. Fixed: always 1.
 */
export class MeteringElement {
  private readonly spec: MeteringSpec;
  private readonly fluid: PlantFluid;
  private readonly slope: number;
  opening: number;
  tBulb: number;
  private tPipe: number;
  private free = 0;
  private integral: number;
  private wait = 0;

  constructor(spec: MeteringSpec, fluid: PlantFluid, slope_K_Pa: number, t: number) {
    this.spec = spec;
    this.fluid = fluid;
    this.slope = slope_K_Pa;
    this.tBulb = t;
    this.tPipe = t;
    this.opening = spec.kind === 'fixed' ? 1 : 0;
    this.integral = spec.kind === 'eev' ? 1 / spec.oversize : 0;
  }

  step(input: ValveInputs, settings: ValveSettings, dt: number): void {
    if (this.spec.kind === 'txv') this.stepThermostatic(this.spec, input, settings, dt);
    else if (this.spec.kind === 'eev') this.stepElectronic(this.spec, input, settings, dt);
  }

  private stepThermostatic(
    spec: Extract<MeteringSpec, { kind: 'txv' }>,
    input: ValveInputs,
    settings: ValveSettings,
    dt: number,
  ): void {
    const lag = spec.bulbLag_s;
    // The pipe under the clamp, then the bulb and its charge.
    this.tPipe += (input.tPipe - this.tPipe) * (1 - Math.exp((-dt * 2) / lag));
    this.tBulb += (this.tPipe - this.tBulb) * (1 - Math.exp(-dt / lag));
    let pBulb = this.fluid.dewPressure(this.tBulb + input.bulbError_K);
    // Above the maximum operating pressure the charge is all gas: it rises only as a gas does.
    if (spec.mop_Pa !== undefined && pBulb > spec.mop_Pa) {
      pBulb = spec.mop_Pa + 0.02 * (pBulb - spec.mop_Pa);
    }
    // An over-large port is set so that it passes the same flow at the same superheat.
    const shift = (spec.band_K / spec.oversize) * (1 - 1 / input.larger);
    const spring = (settings.spring_K + shift) / this.slope;
    const band = spec.band_K / this.slope;
    const aim = Math.min(Math.max((pBulb - input.p - spring) / band, 0), 1);
    if (input.held) return;
    // A sticking pin lags behind in both directions (backlash).
    this.free += (aim - this.free) * Math.min(1, dt / 1.5);
    const play = input.play;
    this.opening = Math.min(Math.max(this.opening, this.free - play), this.free + play);
    this.opening = Math.min(Math.max(this.opening, 0), 1);
  }

  private stepElectronic(
    spec: Extract<MeteringSpec, { kind: 'eev' }>,
    input: ValveInputs,
    settings: ValveSettings,
    dt: number,
  ): void {
    this.tBulb += (input.tPipe - this.tBulb) * (1 - Math.exp(-dt / spec.sensorLag_s));
    this.wait -= dt;
    if (input.held) return;
    if (!input.running) {
      // Drivers close the valve at rest and preset it at the next start.
      this.opening += (0 - this.opening) * Math.min(1, dt / 4);
      this.integral = 1 / spec.oversize;
      return;
    }
    if (this.wait > 0) return;
    this.wait = spec.period_s;
    const error = this.tBulb + input.bulbError_K - input.tDew - settings.spring_K;
    const held = Math.min(Math.max(error, -10), 10);
    const gain = spec.gain_per_K * input.larger * input.larger;
    this.integral += (gain * held * spec.period_s) / spec.reset_s;
    this.integral = Math.min(Math.max(this.integral, 0.05), 1);
    this.opening = Math.min(Math.max(this.integral + gain * held, 0.05), 1);
  }

  /** Open area over the area of the rating point. */
  areaFactor(extraOversize: number): number {
    if (this.spec.kind === 'fixed') return 1;
    const oversize = this.spec.oversize * extraOversize;
    const bleed = this.spec.kind === 'txv' ? this.spec.bleed / this.spec.oversize : 0.004;
    return Math.max(oversize * this.opening, bleed);
  }
}
