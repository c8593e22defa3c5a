import { saturationDome } from '../../core/refrigerant/dome.ts';
import { hasSaturation } from '../../core/refrigerant/range.ts';
import { refrigerant } from '../../core/refrigerant/refrigerants.ts';
import type { Refrigerant, RefrigerantId } from '../../core/refrigerant/types.ts';

/** A state on the pressure-enthalpy chart: p in Pa absolute, h in J/kg. */
export interface CyclePoint {
  readonly p: number;
  readonly h: number;
}

/** What the chart needs to be drawn. Corners that cannot be told are null. */
export interface Cycle {
  readonly suction: CyclePoint | null;
  readonly discharge: CyclePoint | null;
  /** Whether the discharge corner is measured, or the end of an ideal (isentropic) compression. */
  readonly dischargeMeasured: boolean;
  readonly liquid: CyclePoint | null;
  /** After the metering device: the liquid's enthalpy at the suction pressure. */
  readonly expanded: CyclePoint | null;
}

/** Channel values in SI; null where absent. */
export interface CycleInput {
  readonly suctionPressure: number | null;
  readonly highPressure: number | null;
  readonly suctionLineTemp: number | null;
  readonly liquidLineTemp: number | null;
  readonly dischargeLineTemp: number | null;
}

/** The chart begins inside the foot of the dome, where no cycle goes: a share of the dome's width. */
const FOOT = 0.1;
/** Air right of the dome, as a share of its width. It grows in whole steps, so that it never trembles. */
const RIGHT_AIR = 0.2;
const DOME_POINTS = 48;
/** The vapour curves reach at least this far above the dew point, K (see RefrigerantCurves). */
const VAPOUR_REACH = 80;
const BISECTIONS = 40;

/** The saturation dome of a refrigerant: liquid side up, vapour side down. */
export function domeLine(id: RefrigerantId): readonly CyclePoint[] {
  const dome = saturationDome(refrigerant(id), DOME_POINTS);
  return [
    ...dome.map((d) => ({ p: d.p, h: d.hLiquid })),
    ...dome.map((d) => ({ p: d.p, h: d.hVapour })).reverse(),
  ];
}

/** The corners of the cycle from what is measured. */
export function cycleOf(id: RefrigerantId, input: CycleInput): Cycle {
  const r = refrigerant(id);
  const low = within(r, input.suctionPressure);
  const high = within(r, input.highPressure);
  const suction = vapour(r, low, input.suctionLineTemp);
  const measured = vapour(r, high, input.dischargeLineTemp);
  const liquid = liquidPoint(r, high, input.liquidLineTemp);
  return {
    suction,
    discharge: measured ?? idealDischarge(r, low, input.suctionLineTemp, high),
    dischargeMeasured: measured !== null,
    liquid,
    expanded: liquid === null || low === null ? null : { p: low, h: liquid.h },
  };
}

/** The enthalpies that the chart spans, J/kg: the dome and all corners of the cycle, with some air. */
export function enthalpySpan(
  dome: readonly CyclePoint[],
  cycle: Cycle,
): { readonly low: number; readonly high: number } {
  const hs = dome.map((d) => d.h);
  const left = Math.min(...hs);
  const right = Math.max(...hs);
  const air = (right - left) * RIGHT_AIR;
  const beyond = Math.max(cycle.discharge?.h ?? right, cycle.suction?.h ?? right) - right;
  const steps = Math.max(1, Math.ceil(beyond / air + RIGHT_AIR));
  const inside = left + (right - left) * FOOT;
  const least = Math.min(cycle.liquid?.h ?? inside, cycle.expanded?.h ?? inside);
  return { low: Math.min(inside, least - air / 4), high: right + steps * air };
}

function within(r: Refrigerant, p: number | null): number | null {
  return p !== null && hasSaturation(r, p) ? p : null;
}

function vapour(r: Refrigerant, p: number | null, t: number | null): CyclePoint | null {
  if (p === null || t === null) return null;
  const dew = r.curves.tDew(p);
  // Below the dew point by measurement error only: drawn on the dome.
  if (t > dew + VAPOUR_REACH || t < dew - 5) return null;
  return { p, h: t <= dew ? r.curves.hVapourSat(p) : r.curves.hVapour(p, t) };
}

function liquidPoint(r: Refrigerant, p: number | null, t: number | null): CyclePoint | null {
  if (p === null || t === null) return null;
  const bubble = r.curves.tBubble(p);
  if (t > bubble + 5 || t < bubble - 40) return null;
  return { p, h: t >= bubble ? r.curves.hLiquidSat(p) : r.curves.hLiquid(p, t) };
}

/** The end of a compression at constant entropy, found by halving; null out of the curves' reach. */
function idealDischarge(
  r: Refrigerant,
  low: number | null,
  t: number | null,
  high: number | null,
): CyclePoint | null {
  if (low === null || high === null || t === null || high <= low) return null;
  const dewLow = r.curves.tDew(low);
  if (t < dewLow || t > dewLow + VAPOUR_REACH) return null;
  const s = r.curves.sVapour(low, t);
  let a = r.curves.tDew(high);
  let b = a + VAPOUR_REACH;
  if (r.curves.sVapour(high, a) > s || r.curves.sVapour(high, b) < s) return null;
  for (let i = 0; i < BISECTIONS; i += 1) {
    const middle = (a + b) / 2;
    if (r.curves.sVapour(high, middle) < s) a = middle;
    else b = middle;
  }
  return { p: high, h: r.curves.hVapour(high, (a + b) / 2) };
}
