import {
  densityOf,
  emptySaturation,
  qualityOf,
  subcoolingOf,
  superheatOf,
  type PlantFluid,
  type Saturation,
} from './fluid.ts';
import type { UnitDesign } from './sizing.ts';
import { meteredFlow } from './valve.ts';

/** Pressure loss of the clean line at the rating flow and of a full restriction in it, Pa. */
const LINE_LOSS = 20_000;
const RESTRICTION_LOSS = 2.4e6;
const PIPE_W_K = 3;

/** The liquid line with its drier, from condenser to metering device. */
export class LiquidLine {
  mass = 0;
  h = 0;
  /** Temperature before the drier, K, and heat from the surroundings, W. */
  t: number;
  gain = 0;
  /** Flow through the metering device (negative backwards) and out of the condenser, kg/s. */
  flow = 0;
  entering = 0;
  /** Pressure before the metering device, and saturation there. */
  pEnd = 0;
  readonly end = emptySaturation();
  private readonly design: UnitDesign;
  private readonly fluid: PlantFluid;

  constructor(design: UnitDesign, fluid: PlantFluid, t: number) {
    this.design = design;
    this.fluid = fluid;
    this.t = t;
  }

  /** Pressure behind line and restriction (severity 0..1) at the present flow. */
  stepPressure(pHigh: number, pLow: number, restriction: number, dt: number): void {
    const rel = this.flow / this.design.flow_kg_s;
    const loss = (LINE_LOSS + RESTRICTION_LOSS * restriction * restriction) * rel * rel;
    const aim = Math.max(pHigh - loss, Math.min(pLow, pHigh));
    this.pEnd += (aim - this.pEnd) * Math.min(1, dt / 0.8);
    this.fluid.saturation(this.pEnd, this.end);
  }

  /**
   * Flow through the metering area, and what the condenser has to give: the line stays full, so
   * that is what the valve takes and what its density asks for.
   */
  stepFlow(
    high: Saturation,
    pLow: number,
    area: number,
    choked: boolean,
    condenser: { mass: number; h: number },
    around: number,
    dt: number,
  ): void {
    const nominal = this.design.flow_kg_s;
    const law = meteredFlow(this.fluid, this.end, this.pEnd, this.h, pLow, area, choked);
    this.flow = Math.min(Math.max(law, -0.5 * nominal), 4 * nominal, this.mass / (2 * dt));
    const out = Math.max(this.flow, 0);
    const content = this.design.liquidLine_m3 * densityOf(high, this.h);
    const wanted = out + (content - this.mass) / 2;
    const most = Math.min(4 * nominal, condenser.mass / (4 * dt));
    this.entering = Math.min(Math.max(wanted, -0.5 * nominal), most);
    this.t = this.temperature(high);
    this.gain = PIPE_W_K * (around - this.t);
    const thermal = Math.max(this.mass, 0.02) + 0.25;
    const brought = Math.max(this.entering, 0) * (condenser.h - this.h);
    this.h += ((brought + this.gain) / thermal) * dt;
    this.mass += (this.entering - out) * dt;
  }

  private temperature(s: Saturation): number {
    if (this.h <= s.hLiquid) return s.tBubble - subcoolingOf(s, this.h);
    if (this.h >= s.hVapour) return s.tDew + superheatOf(s, this.h);
    return s.tBubble + (s.tDew - s.tBubble) * qualityOf(s, this.h);
  }
}
