import {
  qualityOf,
  superheatOf,
  superheatOfEntropy,
  vapourCp,
  vapourDensity,
  vapourEnthalpy,
  vapourEntropy,
  type Saturation,
} from './fluid.ts';

/**
 * Efficiency maps of a low-side scroll by pressure ratio. Shapes as usual for the type (from
 * memory; Winandy, Saavedra and Lebrun 2002 show the same course): the volumetric one falls nearly
 * linearly, the overall isentropic one (shaft and motor included) has a flat top where the ratio
 * fits the built-in volume ratio.
 */
export function volumetricEfficiency(ratio: number): number {
  return Math.max(0.05, 1.015 - 0.028 * Math.max(ratio, 0.8));
}

/** Overall isentropic efficiency by pressure ratio: isentropic work over electrical input. */
export function isentropicEfficiency(ratio: number): number {
  const x = Math.log(Math.max(ratio, 1.05) / 2.9);
  return 0.7 * Math.exp(-(x < 0 ? 0.55 : 0.35) * x * x);
}

/** What a compressor does at one moment. */
export interface CompressorOutput {
  /** Flow taken from the suction, kg/s, and what of it comes out at the discharge. */
  swept: number;
  delivered: number;
  power: number;
  /** Enthalpy at the discharge before the body takes heat, J/kg. */
  hDischarge: number;
  /** Superheat found for the isentropic end state: start of the next search, K. */
  isentropicSuperheat: number;
}

/** A compressor at rest. */
export function idleCompressor(): CompressorOutput {
  return { swept: 0, delivered: 0, power: 0, hDischarge: 0, isentropicSuperheat: 25 };
}

/**
 * Runs the compressor at given suction and discharge states.
 *
 * A leaking valve lets gas of a compressing chamber back to the suction. That gas has on average
 * only part of the compression behind it (`LEAK_WORK`), and so costs and heats only that part; the
 * flow lost follows the pressure difference as through an orifice.
 *
 * @param low saturation at the suction pressure
 * @param high saturation at the discharge pressure
 * @param h1 enthalpy of what is drawn in; wet suction is allowed
 * @param swept_m3_s swept volume per second
 * @param leak 0..1, severity of the valve leak
 */
export function compress(
  low: Saturation,
  high: Saturation,
  h1: number,
  swept_m3_s: number,
  leak: number,
  out: CompressorOutput,
): void {
  const ratio = high.p / low.p;
  const superheat = superheatOf(low, h1);
  const quality = Math.max(qualityOf(low, h1), 0.7);
  const density = vapourDensity(low, superheat) / quality;
  const drawn = volumetricEfficiency(ratio) * swept_m3_s * density;
  const s1 = vapourEntropy(low, superheat);
  const hDry = vapourEnthalpy(low, superheat);
  out.isentropicSuperheat = superheatOfEntropy(high, s1, out.isentropicSuperheat);
  const ideal = Math.max(vapourEnthalpy(high, out.isentropicSuperheat) - hDry, 0);
  const work = ideal / isentropicEfficiency(ratio) + FRICTION;
  const lost = drawn * Math.min(0.75, LEAK_GAIN * leak * Math.sqrt(Math.max(1 - 1 / ratio, 0)));
  const kept = drawn - lost;
  out.swept = kept;
  out.delivered = kept;
  out.power = work * (kept + LEAK_WORK * lost);
  out.hDischarge = h1 + out.power / Math.max(kept, 1e-6);
}

const LEAK_GAIN = 0.75;
const LEAK_WORK = 0.25;
/** Losses that remain without compression, J per kg drawn. */
const FRICTION = 1500;

/** Cooling of the gas by the body it passes: effectiveness, and the conductance behind it. */
export function bodyEffectiveness(flow: number, conductance: number, s: Saturation): number {
  return flow > 1e-6 ? 1 - Math.exp(-conductance / (flow * vapourCp(s, 30))) : 0;
}
