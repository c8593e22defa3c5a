import type { RefrigerantFile } from './data-file.ts';
import {
  clenshaw,
  derivativeOf,
  edgeOf,
  evaluateGrid,
  evaluateLine,
  gridSeries,
  lineSeries,
  type GridSeries,
  type LineSeries,
} from './series.ts';
import type { RefrigerantCurves } from './types.ts';

/** The curves of one refrigerant, with the ends of the inverse curves for the range checks. */
export interface CurveSet {
  readonly curves: RefrigerantCurves;
  readonly tBubbleSeries: LineSeries;
  readonly tDewSeries: LineSeries;
  readonly pBubbleSeries: LineSeries;
  readonly pDewSeries: LineSeries;
}

/** Builds the property functions of one data file. */
export function curvesOf(file: RefrigerantFile): CurveSet {
  const line = (s: { from: number; to: number; c: number[] }) => lineSeries(s.from, s.to, s.c);
  const set = {
    tBubbleSeries: line(file.saturation.tBubble),
    tDewSeries: line(file.saturation.tDew),
    pBubbleSeries: line(file.saturation.pBubble),
    pDewSeries: line(file.saturation.pDew),
  };
  const bubbleSlope = derivativeOf(set.tBubbleSeries);
  const dewSlope = derivativeOf(set.tDewSeries);
  return {
    ...set,
    curves: {
      tBubble: (p) => evaluateLine(set.tBubbleSeries, Math.log(p)),
      tDew: (p) => evaluateLine(set.tDewSeries, Math.log(p)),
      pBubble: (t) => Math.exp(evaluateLine(set.pBubbleSeries, t)),
      pDew: (t) => Math.exp(evaluateLine(set.pDewSeries, t)),
      tBubbleSlope: (p) => evaluateLine(bubbleSlope, Math.log(p)) / p,
      tDewSlope: (p) => evaluateLine(dewSlope, Math.log(p)) / p,
      ...vapourOf(file, set.tDewSeries),
      ...liquidOf(file, set.tBubbleSeries),
    },
  };
}

type VapourKey = 'hVapour' | 'sVapour' | 'rhoVapour' | 'hVapourSat' | 'sVapourSat' | 'rhoVapourSat';
type LiquidKey = 'hLiquid' | 'sLiquid' | 'rhoLiquid' | 'hLiquidSat' | 'sLiquidSat' | 'rhoLiquidSat';

function vapourOf(file: RefrigerantFile, tDew: LineSeries): Pick<RefrigerantCurves, VapourKey> {
  const region = phaseRegion(tDew, file.stretch_K, file.range.superheatMax_K, 1);
  const gas = file.gasConstant_J_kgK;
  const h = region(gridSeries(file.vapour.h));
  const s = region(gridSeries(file.vapour.s));
  const z = region(gridSeries(file.vapour.z));
  return {
    hVapour: h.at,
    sVapour: s.at,
    rhoVapour: (p, t) => p / (z.at(p, t) * gas * t),
    hVapourSat: h.edge,
    sVapourSat: s.edge,
    rhoVapourSat: (p) => p / (z.edge(p) * gas * evaluateLine(tDew, Math.log(p))),
  };
}

function liquidOf(file: RefrigerantFile, tBubble: LineSeries): Pick<RefrigerantCurves, LiquidKey> {
  const region = phaseRegion(tBubble, file.stretch_K, file.range.subcoolingMax_K, -1);
  const h = region(gridSeries(file.liquid.h));
  const s = region(gridSeries(file.liquid.s));
  const rho = region(gridSeries(file.liquid.rho));
  return {
    hLiquid: h.at,
    sLiquid: s.at,
    rhoLiquid: rho.at,
    hLiquidSat: h.edge,
    sLiquidSat: s.edge,
    rhoLiquidSat: rho.edge,
  };
}

/** A property of one phase: anywhere in the region, and along its saturated edge. */
interface PhaseProperty {
  readonly at: (p: number, t: number) => number;
  readonly edge: (p: number) => number;
}

/**
 * Maps (p, T) to the unit square of a region: u linear in ln p, w linear in ln(1 + d / stretch),
 * d the distance from saturation in kelvin, positive into the region.
 */
function phaseRegion(
  saturation: LineSeries,
  stretch: number,
  span: number,
  sign: 1 | -1,
): (grid: GridSeries) => PhaseProperty {
  const perLog = 2 / Math.log1p(span / stretch);
  const perKelvin = sign / stretch;
  return (grid) => {
    const edge = edgeOf(grid);
    return {
      at: (p, t) => {
        const u = Math.log(p) * saturation.scale + saturation.shift;
        const d = (t - clenshaw(saturation.c, u)) * perKelvin;
        return evaluateGrid(grid, u, perLog * Math.log1p(d) - 1);
      },
      edge: (p) => clenshaw(edge, Math.log(p) * saturation.scale + saturation.shift),
    };
  };
}
