/** The families of sessions, how many there are of each, and how a seed becomes one. */
import { analyticSession } from './analytic.ts';
import { drawCooling, SPECIAL_FROM } from './cooling.ts';
import { drawCycling } from './cycling.ts';
import { drawHeating } from './heating.ts';
import { plantSession } from './plant.ts';
import type { Family, Session } from './session.ts';

interface FamilyRow {
  /** Sessions in both halves together. */
  readonly count: number;
  readonly make: (seed: number, minimumRun: number) => Session;
}

const ROWS: Readonly<Record<Family, FamilyRow>> = {
  cooling: {
    count: SPECIAL_FROM + 40,
    make: (seed, minimumRun) => plantSession(drawCooling(seed), seed, minimumRun),
  },
  heating: {
    count: 100,
    make: (seed, minimumRun) => plantSession(drawHeating(seed), seed, minimumRun),
  },
  cycling: {
    count: 40,
    make: (seed, minimumRun) => plantSession(drawCycling(seed), seed, minimumRun),
  },
  analytic: { count: 160, make: analyticSession },
};

/**
 * The seeds of a family in one half: even ones for tuning, odd ones for the verdict. Of a share they
 * are spread over the whole range, so that what is drawn by range of seeds keeps its part.
 */
export function seedsOf(family: Family, parity: 0 | 1, share: number): number[] {
  const inHalf = ROWS[family].count / 2;
  const wanted = Math.ceil(inHalf * share);
  return Array.from({ length: wanted }, (_, i) => 2 * Math.floor((i * inHalf) / wanted) + parity);
}

/** Makes the session of a seed of a family. */
export function makeSession(family: Family, seed: number, minimumRun: number): Session {
  return ROWS[family].make(seed, minimumRun);
}
