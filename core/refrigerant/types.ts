import type { Kelvin, Pascal } from '../units/brands.ts';
import type { Result } from '../result.ts';

/** The refrigerants the program knows: one file of `data/` each. */
export const REFRIGERANT_IDS = [
  'R-410A',
  'R-32',
  'R-454B',
  'R-22',
  'R-407C',
  'R-134a',
  'R-404A',
  'R-448A',
  'R-449A',
  'R-452B',
  'R-513A',
  'R-290',
  'R-1234yf',
] as const;

export type RefrigerantId = (typeof REFRIGERANT_IDS)[number];

/** Flammability and toxicity class of ASHRAE 34 (from memory where the data file says so). */
export type SafetyClass = 'A1' | 'A2L' | 'A3';

/** An input outside the range of a fit. Never extrapolated. */
export interface OutOfRange {
  readonly code: 'OUT_OF_RANGE';
  readonly refrigerant: RefrigerantId;
  readonly quantity: 'pressure' | 'temperature';
  /** The offending value and the range, SI (Pa or K). */
  readonly value: number;
  readonly min: number;
  readonly max: number;
}

/**
 * Unchecked property functions on plain SI numbers (Pa, K, J/kg, J/(kg K), kg/m3), for loops that
 * have checked the range themselves. Outside the range the result is meaningless.
 */
export interface RefrigerantCurves {
  tBubble(p: number): number;
  tDew(p: number): number;
  pBubble(t: number): number;
  pDew(t: number): number;
  /** dT/dp along the curve, K/Pa. */
  tBubbleSlope(p: number): number;
  tDewSlope(p: number): number;
  hLiquidSat(p: number): number;
  hVapourSat(p: number): number;
  sLiquidSat(p: number): number;
  sVapourSat(p: number): number;
  rhoLiquidSat(p: number): number;
  rhoVapourSat(p: number): number;
  /** Superheated vapour at p and T >= T_dew(p), up to at least 80 K above dew. */
  hVapour(p: number, t: number): number;
  sVapour(p: number, t: number): number;
  rhoVapour(p: number, t: number): number;
  /** Subcooled liquid at p and T <= T_bubble(p), down to at least 40 K below bubble. */
  hLiquid(p: number, t: number): number;
  sLiquid(p: number, t: number): number;
  rhoLiquid(p: number, t: number): number;
}

/** One refrigerant: its identity, its range, its curves. Dew for superheat, bubble for subcooling. */
export interface Refrigerant {
  readonly id: RefrigerantId;
  readonly safetyClass: SafetyClass;
  /** Range of the saturation fits, Pa and K. */
  readonly range: {
    readonly pMin: Pascal;
    readonly pMax: Pascal;
    readonly tMin: Kelvin;
    readonly tMax: Kelvin;
  };
  readonly curves: RefrigerantCurves;
  bubbleTemperature(p: Pascal): Result<Kelvin, OutOfRange>;
  dewTemperature(p: Pascal): Result<Kelvin, OutOfRange>;
  bubblePressure(t: Kelvin): Result<Pascal, OutOfRange>;
  dewPressure(t: Kelvin): Result<Pascal, OutOfRange>;
}
