import { bodyEffectiveness } from './compressor.ts';
import { superheatOf, vapourCp, type Saturation } from './fluid.ts';

/**
 * The compressor's body: the discharge gas warms it over minutes, it warms its surroundings. It
 * is the slowest thing in the circuit itself.
 */
export class CompressorBody {
  t: number;
  /** Discharge pipe, K. */
  tDischarge: number;
  /** Heat to the surroundings, W. */
  loss = 0;
  private readonly scale: number;

  /** @param heatCapacity J/K; conductances scale with it */
  constructor(heatCapacity: number, t: number) {
    this.scale = heatCapacity / 7000;
    this.t = t;
    this.tDischarge = t;
  }

  /** Passes `flow` of enthalpy `h` through; returns the enthalpy it leaves with, J/kg. */
  step(flow: number, h: number, high: Saturation, around: number, dt: number): number {
    const k = this.scale;
    this.loss = 4 * k * (this.t - around);
    let gained = 0;
    let leaving = h;
    if (flow > 1e-5) {
      const superheat = superheatOf(high, h);
      const tGas = high.tDew + superheat;
      const effect = bodyEffectiveness(flow, 42 * k, high);
      const wanted = flow * vapourCp(high, superheat) * effect * (tGas - this.t);
      leaving = Math.max(h - wanted / flow, high.hVapour);
      gained = (h - leaving) * flow;
      const tOut = high.tDew + superheatOf(high, leaving);
      this.tDischarge += (tOut - this.tDischarge) * Math.min(1, dt / 6);
    } else {
      this.tDischarge += (this.t - this.tDischarge) * Math.min(1, dt / 60);
    }
    this.t += ((gained - this.loss) / (7000 * k)) * dt;
    return leaving;
  }
}

const PIPE_W_K = 150;
const PIPE_J_K_M = 130;

/** The insulated suction pipe to the compressor: metal between gas and surroundings. */
export class SuctionPipe {
  t: number;
  /** Heat into the gas, W. */
  gain = 0;
  private readonly metal: number;
  private readonly outside: number;

  constructor(length_m: number, outside_W_K: number, t: number) {
    this.metal = PIPE_J_K_M * length_m;
    this.outside = outside_W_K;
    this.t = t;
  }

  step(flow: number, tGas: number, low: Saturation, around: number, dt: number): void {
    if (flow <= 1e-5) {
      this.gain = 0;
      this.t += (around - this.t) * Math.min(1, dt / 600);
      return;
    }
    const capacity = flow * vapourCp(low, tGas - low.tDew);
    const inside = capacity * (1 - Math.exp(-PIPE_W_K / capacity));
    this.gain = inside * (this.t - tGas);
    const store = this.metal / dt;
    this.t =
      (store * this.t + inside * tGas + this.outside * around) / (store + inside + this.outside);
  }
}
