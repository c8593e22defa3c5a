import { CELLS, type AirStream, type Coil } from './coil.ts';
import type { Passage } from './evaporate.ts';
import {
  liquidEnthalpy,
  meanVoid,
  superheatOf,
  vapourCp,
  vapourDensity,
  type Saturation,
} from './fluid.ts';

/** What leaves the condensing coil. */
export interface CondenserOutput {
  /** Share of the coil that takes the superheat off, and that holds subcooled liquid. */
  desuperheating: number;
  subcooled: number;
  /** Quality at the outlet: 0 with a liquid seal, above where liquid is short. */
  quality: number;
  /** Enthalpy at the outlet, J/kg. */
  h: number;
  /** Vapour that arrives condensable, J/kg above saturation that the zone could not take off. */
  hVapourLeft: number;
}

/** A condenser at rest. */
export function restingCondenser(): CondenserOutput {
  return { desuperheating: 0, subcooled: 0, quality: 0, h: 0, hVapourLeft: 0 };
}

const SOFT = 0.006;

/** Conductances of one piece at the present flows, W/K, and the marching state along the path. */
interface March {
  readonly condensing: number;
  readonly boiling: number;
  readonly vapour: number;
  readonly liquid: number;
  /** Where the subcooled zone begins, in pieces from the inlet. */
  readonly end: number;
  superheat: number;
  hGas: number;
  /** Pieces used for taking the superheat off so far. */
  used: number;
  tLiquid: number;
  hLiquid: number;
  light: number;
}

/**
 * One step of a coil as condenser. The liquid inside beyond what a condensing zone holds (mean void
 * fraction from quality 1 to 0) backs up from the outlet and is subcooled; where it is short, the
 * outlet carries vapour. So subcooling follows from the charge.
 *
 * @param s saturation at the refrigerant's own (partial) pressure
 * @param through vessel of coil and discharge space, and its flows
 * @param nominal flow at the rating point, kg/s
 * @param hinder factor on the condensing coefficient (foreign gas)
 */
export function condense(
  coil: Coil,
  s: Saturation,
  through: Passage,
  nominal: number,
  hinder: number,
  air: AirStream,
  dt: number,
  out: CondenserOutput,
): void {
  const d = coil.design;
  const { volume, flowIn, hIn, flowOut } = through;
  const liquid = Math.max(coil.liquid(s, volume), 0);
  const capacity = d.volume_m3 * s.rhoLiquid;
  const holdup = 1 - meanVoid(s, 0, 1);
  const open = 1 - out.desuperheating;
  const backed = (liquid / capacity - holdup * open) / (1 - holdup);
  out.subcooled = Math.min(SOFT * softplus(backed / SOFT), 0.97);
  const deficit = Math.min(Math.max(1 - liquid / (capacity * holdup * Math.max(open, 0.05)), 0), 1);
  // Exit quality by missing liquid: the inverse of the mean void fraction from 1 to x, as a power.
  out.quality = Math.pow(deficit, 1.65);

  const rel = Math.min(flowIn / nominal, 2);
  const relOut = Math.min(Math.max(flowOut, 0) / nominal, 2);
  const m: March = {
    condensing: ((d.condensing_W_K * hinder) / CELLS) * Math.max(0.35, Math.pow(rel, 0.3)),
    boiling: (d.boiling_W_K / CELLS) * 0.4 * Math.min(1, liquid / (0.03 * capacity)),
    vapour: (d.vapour_W_K / CELLS) * Math.pow(Math.max(rel, 0.01), 0.8),
    liquid: (d.liquid_W_K / CELLS) * Math.pow(Math.max(relOut, 0.02), 0.6),
    end: CELLS * (1 - out.subcooled),
    superheat: flowIn > 1e-5 ? superheatOf(s, hIn) : 0,
    hGas: hIn,
    used: 0,
    tLiquid: s.tBubble,
    hLiquid: s.hLiquid,
    light: 0,
  };
  coil.beginStep(air);
  for (let i = 0; i < CELLS; i += 1) stepPiece(coil, s, through, m, i, air, dt);
  coil.heatTotal += coil.heat;
  out.desuperheating += (Math.min(m.used / CELLS, 0.9) - out.desuperheating) * Math.min(1, dt / 2);
  // What superheat is left (or was over-drawn by the finite step) goes to the condensing heat.
  out.hVapourLeft = flowIn > 1e-5 ? m.hGas - s.hVapour : 0;
  out.h = m.hLiquid + out.quality * (s.hVapour - s.hLiquid);
  const aim = vapourDensity(s, Math.min(m.light / CELLS, 60)) / s.rhoVapour;
  coil.lightness += (aim - coil.lightness) * Math.min(1, dt / 4);
}

/** Piece `i` from the inlet; pieces are numbered the other way round than in the evaporator. */
function stepPiece(
  coil: Coil,
  s: Saturation,
  { flowIn, flowOut }: Passage,
  m: March,
  i: number,
  air: AirStream,
  dt: number,
): void {
  const cell = CELLS - 1 - i;
  const old = coil.wall[cell] ?? 0;
  const liquidPart = Math.min(Math.max(i + 1 - m.end, 0), 1);
  let rest = 1 - liquidPart;
  let kGas = 0;
  let gasPart = 0;
  const tGas = s.tDew + m.superheat;
  if (m.superheat > 0 && rest > 0) {
    const cp = vapourCp(s, m.superheat);
    const reach = (flowIn * cp) / m.vapour;
    const need =
      old < s.tDew ? reach * Math.log((tGas - old) / (s.tDew - old)) : Number.POSITIVE_INFINITY;
    gasPart = Math.min(need, rest);
    kGas = flowIn * cp * (1 - Math.exp(-gasPart / reach));
    rest -= gasPart;
    m.used += gasPart;
  }
  let kLiquid = 0;
  if (liquidPart > 0 && flowOut > 1e-5) {
    kLiquid = flowOut * s.l0 * (1 - Math.exp((-liquidPart * m.liquid) / (flowOut * s.l0)));
  }
  const along = Math.min((i + 0.5 - m.used) / Math.max(m.end - m.used, 0.5), 1);
  const tTwo = s.tDew + (s.tBubble - s.tDew) * Math.max(along, 0);
  const kTwo = rest * (old > tTwo ? m.boiling : m.condensing);
  const kOne = kGas + kLiquid;
  const tOne = kOne > 0 ? (kGas * tGas + kLiquid * m.tLiquid) / kOne : 0;
  const wall = coil.stepWall(cell, kTwo, tTwo, kOne, tOne, air, dt);
  coil.heat += kTwo * (wall - tTwo);
  coil.conductance += kTwo;
  if (kGas > 0) {
    const q = kGas * (wall - tGas);
    m.hGas += q / flowIn;
    coil.heatTotal += q;
    m.superheat = rest > 0 ? 0 : superheatOf(s, m.hGas);
  }
  if (kLiquid > 0) {
    const q = kLiquid * (wall - m.tLiquid);
    coil.heatTotal += q;
    m.hLiquid += q / flowOut;
    m.tLiquid = Math.max(m.tLiquid + q / (flowOut * s.l0), s.tBubble - 60);
  } else if (liquidPart > 0) {
    m.tLiquid += (Math.min(wall, s.tBubble) - m.tLiquid) * liquidPart;
    m.hLiquid = liquidEnthalpy(s, s.tBubble - m.tLiquid);
  }
  m.light += gasPart * m.superheat + rest * Math.max(old - s.tDew, 0);
}

function softplus(x: number): number {
  return x > 30 ? x : Math.log1p(Math.exp(x));
}
