import type { RefrigerantCurves } from '../refrigerant/types.ts';

/** Saturation state at one pressure; filled in place so that the inner loop allocates nothing. */
export interface Saturation {
  p: number;
  tBubble: number;
  tDew: number;
  /** d(T_dew)/dp, K/Pa. */
  slope: number;
  hLiquid: number;
  hVapour: number;
  sVapour: number;
  rhoLiquid: number;
  rhoVapour: number;
  /** d(rho_vapour)/dp, kg/(m3 Pa). */
  rhoSlope: number;
  /** Specific heat of the saturated liquid, J/(kg K). */
  cpLiquid: number;
  /** Superheated vapour at d kelvin above dew: h - hVapour = a0 d + a1 d^2 + a2 d^3. */
  h0: number;
  h1: number;
  h2: number;
  /** s - sVapour likewise. */
  s0: number;
  s1: number;
  s2: number;
  /** rhoVapour / rho - 1 likewise. */
  v0: number;
  v1: number;
  v2: number;
  /** Subcooled liquid at d kelvin below bubble: hLiquid - h = l0 d + l1 d^2. */
  l0: number;
  l1: number;
}

const NODES = 400;
const COLUMNS = 20;
const T_NODES = 800;
/** Superheats at which the vapour is sampled; the interface promises at least 80 K. */
const VAPOUR_AT = [12, 38, 78] as const;
const LIQUID_AT = [8, 24] as const;
/** Above this superheat the cubic is continued by its tangent. */
const LINEAR_ABOVE = 90;

/** A fresh, empty saturation state. */
export function emptySaturation(): Saturation {
  return {
    p: 0,
    tBubble: 0,
    tDew: 0,
    slope: 0,
    hLiquid: 0,
    hVapour: 0,
    sVapour: 0,
    rhoLiquid: 0,
    rhoVapour: 0,
    rhoSlope: 0,
    cpLiquid: 0,
    h0: 0,
    h1: 0,
    h2: 0,
    s0: 0,
    s1: 0,
    s2: 0,
    v0: 0,
    v1: 0,
    v2: 0,
    l0: 0,
    l1: 0,
  };
}

/** Coefficients of y = a d + b d^2 + c d^3 through three points (d, y). */
function cubicThrough(y: readonly [number, number, number]): [number, number, number] {
  const [d1, d2, d3] = VAPOUR_AT;
  const q1 = y[0] / d1;
  const q2 = y[1] / d2;
  const q3 = y[2] / d3;
  const f12 = (q2 - q1) / (d2 - d1);
  const f23 = (q3 - q2) / (d3 - d2);
  const c = (f23 - f12) / (d3 - d1);
  return [q1 - f12 * d1 + c * d1 * d2, f12 - c * (d1 + d2), c];
}

function nodeRow(curves: RefrigerantCurves, p: number): number[] {
  const tDew = curves.tDew(p);
  const tBubble = curves.tBubble(p);
  const hg = curves.hVapourSat(p);
  const sg = curves.sVapourSat(p);
  const rg = curves.rhoVapourSat(p);
  const hl = curves.hLiquidSat(p);
  const at = (f: (d: number) => number): [number, number, number] =>
    cubicThrough([f(VAPOUR_AT[0]), f(VAPOUR_AT[1]), f(VAPOUR_AT[2])]);
  const h = at((d) => curves.hVapour(p, tDew + d) - hg);
  const s = at((d) => curves.sVapour(p, tDew + d) - sg);
  const v = at((d) => rg / curves.rhoVapour(p, tDew + d) - 1);
  const [e1, e2] = LIQUID_AT;
  const q1 = (hl - curves.hLiquid(p, tBubble - e1)) / e1;
  const q2 = (hl - curves.hLiquid(p, tBubble - e2)) / e2;
  const l1 = (q2 - q1) / (e2 - e1);
  return [
    tBubble,
    tDew,
    hl,
    hg,
    sg,
    curves.rhoLiquidSat(p),
    rg,
    ...h,
    ...s,
    ...v,
    q1 - l1 * e1,
    l1,
  ];
}

/**
 * The refrigerant as the plant uses it: {@link RefrigerantCurves} sampled once on a grid uniform in
 * ln p, so that a whole saturation state costs one logarithm. Differences to the curves themselves
 * are far below what the plant's other assumptions cost (see the test).
 */
export class PlantFluid {
  /** Pressures outside this range are held at its ends, Pa. */
  readonly pMin: number;
  readonly pMax: number;
  private readonly rows = new Float64Array(NODES * COLUMNS);
  private readonly lnMin: number;
  private readonly perNode: number;
  private readonly tMin: number;
  private readonly perKelvin: number;
  private readonly lnP = new Float64Array(T_NODES);
  private readonly lnBubble = new Float64Array(T_NODES);

  constructor(curves: RefrigerantCurves, pMin: number, pMax: number) {
    this.pMin = pMin;
    this.pMax = pMax;
    this.lnMin = Math.log(pMin);
    this.perNode = (Math.log(pMax) - this.lnMin) / (NODES - 1);
    for (let i = 0; i < NODES; i += 1) {
      const p = Math.min(Math.max(Math.exp(this.lnMin + i * this.perNode), pMin), pMax);
      this.rows.set(nodeRow(curves, p), i * COLUMNS);
    }
    this.tMin = curves.tDew(pMin);
    this.perKelvin = (T_NODES - 1) / (curves.tDew(pMax) - this.tMin);
    for (let i = 0; i < T_NODES; i += 1) {
      const t = this.tMin + i / this.perKelvin;
      const p = i === 0 ? pMin : i === T_NODES - 1 ? pMax : curves.pDew(t);
      this.lnP[i] = Math.log(p);
      this.lnBubble[i] = Math.log(curves.pBubble(t));
    }
  }

  /** Fills `out` with the saturation state at `p` (Pa). */
  saturation(p: number, out: Saturation): Saturation {
    const held = Math.min(Math.max(p, this.pMin), this.pMax);
    const x = (Math.log(held) - this.lnMin) / this.perNode;
    const i = Math.min(Math.max(Math.floor(x), 0), NODES - 2);
    const f = x - i;
    const r = this.rows;
    const k = i * COLUMNS;
    const n = k + COLUMNS;
    const at = (c: number): number => {
      const low = r[k + c] ?? 0;
      return low + f * ((r[n + c] ?? 0) - low);
    };
    const perPa = 1 / (this.perNode * held);
    out.p = held;
    out.tBubble = at(0);
    out.tDew = at(1);
    out.slope = ((r[n + 1] ?? 0) - (r[k + 1] ?? 0)) * perPa;
    out.hLiquid = at(2);
    out.hVapour = at(3);
    out.sVapour = at(4);
    out.rhoLiquid = at(5);
    out.rhoVapour = at(6);
    out.rhoSlope = ((r[n + 6] ?? 0) - (r[k + 6] ?? 0)) * perPa;
    out.h0 = at(7);
    out.h1 = at(8);
    out.h2 = at(9);
    out.s0 = at(10);
    out.s1 = at(11);
    out.s2 = at(12);
    out.v0 = at(13);
    out.v1 = at(14);
    out.v2 = at(15);
    out.l0 = at(16);
    out.l1 = at(17);
    out.cpLiquid = out.l0;
    return out;
  }

  /** Dew pressure at a temperature, Pa; held at the ends of the range. */
  dewPressure(t: number): number {
    return this.pressureFrom(this.lnP, t);
  }

  /** Bubble pressure at a temperature, Pa; held at the ends of the range. */
  bubblePressure(t: number): number {
    return this.pressureFrom(this.lnBubble, t);
  }

  private pressureFrom(table: Float64Array, t: number): number {
    const x = (t - this.tMin) * this.perKelvin;
    const i = Math.min(Math.max(Math.floor(x), 0), T_NODES - 2);
    const f = Math.min(Math.max(x - i, 0), 1);
    const low = table[i] ?? 0;
    return Math.exp(low + f * ((table[i + 1] ?? 0) - low));
  }
}

/** Enthalpy of vapour `d` kelvin above dew, J/kg. */
export function vapourEnthalpy(s: Saturation, d: number): number {
  const c = Math.min(d, LINEAR_ABOVE);
  const beyond = d - c;
  return s.hVapour + c * (s.h0 + c * (s.h1 + c * s.h2)) + beyond * vapourCp(s, c);
}

/** Specific heat of vapour `d` kelvin above dew, J/(kg K). */
export function vapourCp(s: Saturation, d: number): number {
  const c = Math.min(Math.max(d, 0), LINEAR_ABOVE);
  return Math.max(s.h0 + c * (2 * s.h1 + c * 3 * s.h2), 300);
}

/** Entropy of vapour `d` kelvin above dew, J/(kg K). */
export function vapourEntropy(s: Saturation, d: number): number {
  const c = Math.min(d, LINEAR_ABOVE);
  const beyond = d - c;
  return s.sVapour + c * (s.s0 + c * (s.s1 + c * s.s2)) + (beyond * vapourCp(s, c)) / (s.tDew + c);
}

/** Density of vapour `d` kelvin above dew, kg/m3. */
export function vapourDensity(s: Saturation, d: number): number {
  const c = Math.min(Math.max(d, 0), LINEAR_ABOVE);
  const ratio = 1 + c * (s.v0 + c * (s.v1 + c * s.v2));
  return s.rhoVapour / (ratio + (Math.max(d, 0) - c) * s.v0 * 0.5);
}

/** Superheat (kelvin above dew) of vapour of enthalpy `h`; 0 where it is wet. */
export function superheatOf(s: Saturation, h: number): number {
  const excess = h - s.hVapour;
  if (excess <= 0) return 0;
  let d = excess / s.h0;
  for (let i = 0; i < 4; i += 1) {
    d = Math.max(d + (h - vapourEnthalpy(s, d)) / vapourCp(s, d), 0);
  }
  return d;
}

/** Superheat at which the vapour at this pressure has entropy `entropy`, J/(kg K); at least 0. */
export function superheatOfEntropy(s: Saturation, entropy: number, start: number): number {
  let d = Math.max(start, 0);
  for (let i = 0; i < 4; i += 1) {
    d = Math.max(d + ((entropy - vapourEntropy(s, d)) * (s.tDew + d)) / vapourCp(s, d), 0);
  }
  return d;
}

/** Enthalpy of liquid `d` kelvin below bubble, J/kg. */
export function liquidEnthalpy(s: Saturation, d: number): number {
  return s.hLiquid - d * (s.l0 + d * s.l1);
}

/** Subcooling (kelvin below bubble) of liquid of enthalpy `h`; 0 where it is wet. */
export function subcoolingOf(s: Saturation, h: number): number {
  const deficit = s.hLiquid - h;
  if (deficit <= 0) return 0;
  const d = deficit / s.l0;
  return deficit / (s.l0 + d * s.l1);
}

/** Quality (0..1) at enthalpy `h`; outside the dome held at its ends. */
export function qualityOf(s: Saturation, h: number): number {
  return Math.min(Math.max((h - s.hLiquid) / (s.hVapour - s.hLiquid), 0), 1);
}

/** Density at enthalpy `h` and this pressure, homogeneous where two-phase, kg/m3. */
export function densityOf(s: Saturation, h: number): number {
  if (h <= s.hLiquid) return s.rhoLiquid;
  if (h >= s.hVapour) return vapourDensity(s, superheatOf(s, h));
  const x = (h - s.hLiquid) / (s.hVapour - s.hLiquid);
  return 1 / (x / s.rhoVapour + (1 - x) / s.rhoLiquid);
}

/**
 * Mean void fraction between two qualities at even heat flux, with the slip ratio of Zivi (1964),
 * S = (rho_l / rho_g)^(1/3); closed form of the integral.
 */
export function meanVoid(s: Saturation, x1: number, x2: number): number {
  const c = Math.pow(s.rhoVapour / s.rhoLiquid, 2 / 3);
  const a = 1 - c;
  const span = x2 - x1;
  if (Math.abs(span) < 1e-4) return x1 / (x1 + c * (1 - x1));
  return 1 / a - (c / (a * a * span)) * Math.log((c + a * x2) / (c + a * x1));
}
