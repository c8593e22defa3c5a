import { courseAt } from './air.ts';
import { waterSaturation } from './psychro.ts';
import type { PressureHoldScenario, VacuumHoldScenario } from './scenario.ts';
import type { HoldTruth } from './truth.ts';

const GAS_CONSTANT = 8.314462618;
const NITROGEN = 0.0280134;
const AIR = 0.0289652;
const WATER = 0.0180153;
/** Critical pressure ratio and choked-flow factor of a diatomic gas, kappa = 1.4. */
const CRITICAL = 0.5283;
const CHOKED = 0.6847;
const DISCHARGE = 0.8;

/**
 * Gas flow through a hole, kg/s, from `pUp` to `pDown`: choked below the critical ratio, else the
 * isentropic nozzle equation (kappa 1.4), with a discharge coefficient of 0.8.
 */
export function holeFlow(
  diameter: number,
  pUp: number,
  pDown: number,
  t: number,
  molarMass: number,
): number {
  if (diameter <= 0 || pUp <= pDown) return 0;
  const area = (Math.PI / 4) * diameter * diameter;
  const rt = (GAS_CONSTANT / molarMass) * t;
  const r = pDown / pUp;
  if (r <= CRITICAL) return (DISCHARGE * area * pUp * CHOKED) / Math.sqrt(rt);
  const flow = Math.sqrt(7 * (Math.pow(r, 2 / 1.4) - Math.pow(r, 2.4 / 1.4)));
  return (DISCHARGE * area * pUp * flow) / Math.sqrt(rt);
}

/** A circuit filled with dry nitrogen: ideal gas, slow exchange with the surroundings, one hole. */
export class PressureHold {
  private readonly spec: PressureHoldScenario;
  private readonly atmosphere: number;
  private gas: number;
  private tGas: number;
  private leaked = 0;
  private t = 0;

  /** @param atmosphere Pa at the site */
  constructor(spec: PressureHoldScenario, atmosphere: number) {
    this.spec = spec;
    this.atmosphere = atmosphere;
    this.tGas = spec.fill_K;
    this.gas = (spec.fill_Pa * spec.volume_m3 * NITROGEN) / (GAS_CONSTANT * spec.fill_K);
  }

  step(t: number, dt: number): void {
    this.t = t;
    const s = this.spec;
    const around = courseAt(s.surroundings_K, t);
    this.tGas = around + (this.tGas - around) * Math.exp(-dt / s.exchange_s);
    const out = holeFlow(s.hole_m, this.pressure, this.atmosphere, this.tGas, NITROGEN) * dt;
    this.gas -= out;
    this.leaked += out;
  }

  private get pressure(): number {
    return (this.gas * GAS_CONSTANT * this.tGas) / (NITROGEN * this.spec.volume_m3);
  }

  truth(): HoldTruth {
    return {
      kind: 'pressureHold',
      t: this.t,
      pressure: this.pressure,
      tGas: this.tGas,
      tSurroundings: courseAt(this.spec.surroundings_K, this.t),
      gas_kg: this.gas,
      leaked_kg: this.leaked,
      water_kg: 0,
      waterPressure: 0,
    };
  }
}

/**
 * Held water (film, adsorbed on walls, dissolved in oil) gives vapour at this rate, kg/(s Pa) per
 * square root of kg held, until the vapour balances it: what is held has a vapour pressure below
 * that of liquid water, in proportion to what is left (Henry's law for oil, from memory).
 */
const WATER_RATE = 8e-9;
const WATER_FULL = 0.02;

/** A circuit under a vacuum pump and then closed off: air, water vapour, one hole to the outside. */
export class VacuumHold {
  private readonly spec: VacuumHoldScenario;
  private readonly atmosphere: number;
  private pAir: number;
  private pWater = 0;
  private held: number;
  private leaked = 0;
  private t = 0;

  /** @param atmosphere Pa at the site: what the circuit holds before the pump runs */
  constructor(spec: VacuumHoldScenario, atmosphere: number) {
    this.spec = spec;
    this.atmosphere = atmosphere;
    this.pAir = atmosphere;
    this.held = spec.water_kg;
  }

  step(t: number, dt: number): void {
    this.t = t;
    const s = this.spec;
    const tGas = courseAt(s.surroundings_K, t);
    const perKg = (m: number): number => (GAS_CONSTANT * tGas) / (m * s.volume_m3);
    const inflow = holeFlow(s.hole_m, this.atmosphere, this.pAir + this.pWater, tGas, AIR) * dt;
    this.leaked += inflow;
    this.pAir += inflow * perKg(AIR);
    const balance = waterSaturation(tGas) * Math.min(1, this.held / WATER_FULL);
    const rate = WATER_RATE * Math.sqrt(this.held) * perKg(WATER);
    // Exact towards the balance within the step, and never more than is held.
    const risen = (balance - this.pWater) * (1 - Math.exp(-rate * dt));
    const given = Math.min(risen / perKg(WATER), this.held);
    this.held -= given;
    this.pWater += given * perKg(WATER);
    if (t <= s.valvedOffAt_s) {
      const total = this.pAir + this.pWater;
      const effective = Math.max(1 - s.pumpBlankOff_Pa / total, 0);
      const left = Math.exp((-s.pumpSpeed_m3_s * effective * dt) / s.volume_m3);
      this.pAir *= left;
      this.pWater *= left;
    }
  }

  truth(): HoldTruth {
    const tGas = courseAt(this.spec.surroundings_K, this.t);
    return {
      kind: 'vacuumHold',
      t: this.t,
      pressure: this.pAir + this.pWater,
      tGas,
      tSurroundings: tGas,
      gas_kg: (this.pAir * AIR * this.spec.volume_m3) / (GAS_CONSTANT * tGas),
      leaked_kg: this.leaked,
      water_kg: this.held,
      waterPressure: this.pWater,
    };
  }
}
