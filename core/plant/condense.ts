import { CELLS, type AirStream, type Coil } from './coil.ts';
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

const SOFT = 0.006;

/**
 * One step of a coil as condenser. The liquid inside beyond what a condensing zone holds (mean void
 * fraction from quality 1 to 0) backs up from the outlet and is subcooled; where it is short, the
 * outlet carries vapour. So subcooling follows from the charge.
 *
 * @param s saturation at the refrigerant's own (partial) pressure
 * @param flowIn vapour entering, kg/s, of enthalpy `hIn`
 * @param flowOut refrigerant leaving, kg/s
 * @param hinder factor on the condensing coefficient (foreign gas)
 */
export function condense(
  coil: Coil,
  s: Saturation,
  volume: number,
  flowIn: number,
  hIn: number,
  flowOut: number,
  nominal: number,
  hinder: number,
  air: AirStream,
  dt: number,
  out: CondenserOutput,
): void {
  const d = coil.design;
  const liquid = Math.max(coil.liquid(s, volume), 0);
  const capacity = d.volume_m3 * s.rhoLiquid;
  const holdup = 1 - meanVoid(s, 0, 1);
  const open = 1 - out.desuperheating;
  const backed = (liquid / capacity - holdup * open) / (1 - holdup);
  const subcooled = Math.min(SOFT * softplus(backed / SOFT), 0.97);
  const deficit = Math.min(Math.max(1 - liquid / (capacity * holdup * Math.max(open, 0.05)), 0), 1);
  out.quality = Math.pow(deficit, 1.65);
  out.subcooled = subcooled;

  const rel = Math.min(flowIn / nominal, 2);
  const condensing = ((d.condensing_W_K * hinder) / CELLS) * Math.max(0.35, Math.pow(rel, 0.3));
  const boiling = (d.boiling_W_K / CELLS) * 0.4 * Math.min(1, liquid / (0.03 * capacity));
  const vapourK = (d.vapour_W_K / CELLS) * Math.pow(Math.max(rel, 0.01), 0.8);
  const relOut = Math.min(Math.max(flowOut, 0) / nominal, 2);
  const liquidK = (d.liquid_W_K / CELLS) * Math.pow(Math.max(relOut, 0.02), 0.6);
  const end = CELLS * (1 - subcooled);
  let superheat = flowIn > 1e-5 ? superheatOf(s, hIn) : 0;
  let hGas = hIn;
  let used = 0;
  let tLiquid = s.tBubble;
  let hLiquid = s.hLiquid;
  let lightSum = 0;
  coil.beginStep(air);
  // Reverse order of the evaporator: the refrigerant runs the other way round.
  for (let i = 0; i < CELLS; i += 1) {
    const cell = CELLS - 1 - i;
    const old = coil.wall[cell] ?? 0;
    const liquidPart = Math.min(Math.max(i + 1 - end, 0), 1);
    let rest = 1 - liquidPart;
    let k2 = 0;
    let t2 = 0;
    let gasPart = 0;
    if (superheat > 0 && rest > 0) {
      const cp = vapourCp(s, superheat);
      const t = s.tDew + superheat;
      const reach = (flowIn * cp) / vapourK;
      const need =
        old < s.tDew ? reach * Math.log((t - old) / (s.tDew - old)) : Number.POSITIVE_INFINITY;
      gasPart = Math.min(need, rest);
      const effect = 1 - Math.exp(-gasPart / reach);
      k2 = flowIn * cp * effect;
      t2 = t;
      rest -= gasPart;
      used += gasPart;
    }
    let kLiquid = 0;
    if (liquidPart > 0 && flowOut > 1e-5) {
      const cp = s.l0;
      kLiquid = flowOut * cp * (1 - Math.exp((-liquidPart * liquidK) / (flowOut * cp)));
    }
    const position = Math.min((i + 0.5 - used) / Math.max(end - used, 0.5), 1);
    const tTwo = s.tDew + (s.tBubble - s.tDew) * Math.max(position, 0);
    const k1 = rest * (old > tTwo ? boiling : condensing);
    const k3 = k2 + kLiquid;
    const t3 = k3 > 0 ? (k2 * t2 + kLiquid * tLiquid) / k3 : 0;
    const wall = coil.stepWall(cell, k1, tTwo, k3, t3, air, dt);
    coil.heat += k1 * (wall - tTwo);
    coil.conductance += k1;
    if (k2 > 0) {
      const q = k2 * (wall - t2);
      hGas += q / flowIn;
      coil.heatTotal += q;
      superheat = rest > 0 ? 0 : Math.max(superheatOf(s, hGas), 0);
    }
    if (liquidPart > 0) {
      if (kLiquid > 0) {
        const q = kLiquid * (wall - tLiquid);
        coil.heatTotal += q;
        hLiquid += q / flowOut;
        tLiquid = Math.max(tLiquid + q / (flowOut * s.l0), s.tBubble - 60);
      } else {
        tLiquid += (Math.min(wall, s.tBubble) - tLiquid) * liquidPart;
        hLiquid = liquidEnthalpy(s, s.tBubble - tLiquid);
      }
    }
    lightSum += gasPart * Math.max(superheat, 0) + rest * Math.max(old - s.tDew, 0);
  }
  coil.heatTotal += coil.heat;
  out.desuperheating += (Math.min(used / CELLS, 0.9) - out.desuperheating) * Math.min(1, dt / 2);
  // What superheat is left (or was over-drawn by the finite step) is handed to the condensing heat.
  out.hVapourLeft = flowIn > 1e-5 ? hGas - s.hVapour : 0;
  out.h = hLiquid + out.quality * (s.hVapour - s.hLiquid);
  const aim = vapourDensity(s, Math.min(lightSum / CELLS, 60)) / s.rhoVapour;
  coil.lightness += (aim - coil.lightness) * Math.min(1, dt / 4);
}

function softplus(x: number): number {
  return x > 30 ? x : Math.log1p(Math.exp(x));
}
