import { CELLS, type AirStream, type Coil } from './coil.ts';
import {
  meanVoid,
  qualityOf,
  superheatOf,
  vapourCp,
  vapourDensity,
  vapourEnthalpy,
  type Saturation,
} from './fluid.ts';

/** What leaves the evaporating coil. */
export interface EvaporatorOutput {
  /** Share of the coil wetted by boiling refrigerant, 0..1. */
  wetted: number;
  /** How full of liquid the boiling zone is felt to be half way and at its end. */
  fillMiddle: number;
  fillEnd: number;
  /** Quality at the outlet; below 1 where liquid is carried over. */
  quality: number;
  /** Enthalpy of the outgoing vapour (without the carried liquid), J/kg, and its temperature, K. */
  hVapour: number;
  tVapour: number;
  /** Temperature the outlet pipe feels: droplets keep it near saturation, K. */
  tOutlet: number;
}

/** Softness of the dry-out front, as a share of the coil: droplets run ahead of it. */
const FRONT = 0.018;
/** Transit of a void wave over the residence time of the liquid. */
const TRANSIT = 0.9;
/** Share of liquid at the outlet that takes most of the superheat off the pipe wall. */
const WETTING = 0.012;

/** A coil whose outlet is saturated vapour at 0 K; overwritten by the first step. */
export function restingEvaporator(): EvaporatorOutput {
  return { wetted: 0, fillMiddle: 1, fillEnd: 1, quality: 1, hVapour: 0, tVapour: 0, tOutlet: 0 };
}

/** What flows through a coil: its vessel volume (m3), flows (kg/s) and inlet enthalpy (J/kg). */
export interface Passage {
  readonly volume: number;
  readonly flowIn: number;
  readonly hIn: number;
  readonly flowOut: number;
}

/**
 * One step of a coil as evaporator. The mass of liquid inside, spread with the mean void fraction
 * between inlet quality and 1, says how far the boiling zone reaches; what lies behind it
 * superheats the vapour. More liquid than a full boiling zone holds is carried over.
 *
 * @param s saturation at the coil's pressure
 * @param through vessel of coil and suction space; `flowOut` is the vapour the compressor draws
 * @param nominal flow at the rating point, kg/s
 */
export function evaporate(
  coil: Coil,
  s: Saturation,
  through: Passage,
  nominal: number,
  air: AirStream,
  dt: number,
  out: EvaporatorOutput,
): void {
  const { volume, flowIn: flow, hIn: h, flowOut: drawn } = through;
  const d = coil.design;
  const xIn = flow > 1e-5 ? Math.min(Math.max(qualityOf(s, h), 0.02), 0.85) : 0.15;
  const liquid = Math.max(coil.liquid(s, volume), 0);
  const full = d.volume_m3 * (1 - meanVoid(s, xIn, 1)) * s.rhoLiquid;
  // A change of the feed runs through the coil as a wave of void before the dry-out front moves: two
  // lags that together last as long as the liquid takes through the coil.
  const transit = Math.min(Math.max(liquid / Math.max(drawn, 0.15 * nominal), 2), 20);
  const lag = 1 - Math.exp((-2 * dt) / (TRANSIT * transit));
  out.fillMiddle += (liquid / full - out.fillMiddle) * lag;
  out.fillEnd += (out.fillMiddle - out.fillEnd) * lag;
  const fill = Math.min(out.fillEnd, liquid / full + 1);
  const over = FRONT * softplus((fill - 1) / FRONT);
  const wetted = Math.min(Math.max(fill - over, 0), 1);
  out.wetted = wetted;
  out.quality = 1 - Math.min(0.75 * over, 0.9);

  const rel = Math.min(Math.max(flow, drawn) / nominal, 2);
  const boiling = (d.boiling_W_K * Math.max(0.2, Math.sqrt(rel))) / CELLS;
  const condensing = d.condensing_W_K / CELLS;
  const vapourK = (d.vapour_W_K * Math.pow(Math.max(rel, 0.01), 0.8)) / CELLS;
  const glide = s.tDew - s.tBubble;
  const tIn = s.tBubble + glide * xIn;
  let tGas = s.tDew;
  let hGas = s.hVapour;
  let lightSum = 0;
  coil.beginStep(air);
  for (let i = 0; i < CELLS; i += 1) {
    const wet = Math.min(Math.max(wetted * CELLS - i, 0), 1);
    const tTwo = tIn + (s.tDew - tIn) * Math.min((i + 0.5) / (wetted * CELLS + 0.5), 1);
    const cold = (coil.wall[i] ?? 0) < tTwo;
    const k1 = cold ? condensing : wet * boiling;
    const dry = 1 - wet;
    let k2 = 0;
    let effect = 0;
    const cp = vapourCp(s, tGas - s.tDew);
    if (!cold && dry > 0 && drawn > 1e-5) {
      effect = 1 - Math.exp((-dry * vapourK) / (drawn * cp));
      k2 = drawn * cp * effect;
    }
    const wall = coil.stepWall(i, k1, tTwo, k2, tGas, air, dt);
    coil.heat += k1 * (wall - tTwo);
    coil.conductance += k1;
    if (k2 > 0) {
      const q = k2 * (wall - tGas);
      coil.heatTotal += q;
      hGas += q / drawn;
      tGas = Math.max(tGas + effect * (wall - tGas), s.tDew);
    } else if (dry > 0 && !cold) {
      tGas = Math.max(tGas, s.tDew + (wall - s.tDew) * dry);
      hGas = vapourEnthalpy(s, tGas - s.tDew);
    }
    lightSum += dry * Math.max(tGas - s.tDew, 0);
  }
  coil.heatTotal += coil.heat;
  out.hVapour = Math.max(hGas, s.hVapour);
  const outSuperheat = superheatOf(s, out.hVapour);
  out.tVapour = s.tDew + outSuperheat;
  out.tOutlet = s.tDew + outSuperheat * Math.exp((out.quality - 1) / WETTING);
  settleLightness(coil, s, volume, lightSum / CELLS, outSuperheat, dt);
}

/** The coil's dry part and the suction space hold superheated, lighter vapour. */
function settleLightness(
  coil: Coil,
  s: Saturation,
  volume: number,
  meanSuperheat: number,
  outSuperheat: number,
  dt: number,
): void {
  const share = coil.design.volume_m3 / volume;
  const mean = share * meanSuperheat + (1 - share) * outSuperheat;
  const aim = vapourDensity(s, Math.min(mean, 60)) / s.rhoVapour;
  coil.lightness += (aim - coil.lightness) * Math.min(1, dt / 4);
}

function softplus(x: number): number {
  return x > 30 ? x : Math.log1p(Math.exp(x));
}
