/** The families of sessions, how many there are of each, and how a seed becomes one. */
import { analyticSession } from './analytic.ts';
import { drawCooling, SPECIAL_FROM } from './cooling.ts';
import { drawCycling } from './cycling.ts';
import { drawHeating } from './heating.ts';
import { plantSession } from './plant.ts';
import type { Family, Session } from './session.ts';

interface FamilyRow {
  /** How many seeds of each way to draw, one after another; both halves together. */
  readonly counts: readonly number[];
  readonly make: (seed: number, minimumRun: number) => Session;
}

const ROWS: Readonly<Record<Family, FamilyRow>> = {
  cooling: {
    counts: [SPECIAL_FROM, 40],
    make: (seed, minimumRun) => plantSession(drawCooling(seed), seed, minimumRun),
  },
  heating: {
    counts: [100],
    make: (seed, minimumRun) => plantSession(drawHeating(seed), seed, minimumRun),
  },
  cycling: {
    counts: [40],
    make: (seed, minimumRun) => plantSession(drawCycling(seed), seed, minimumRun),
  },
  analytic: { counts: [160], make: analyticSession },
};

/**
 * The seeds of a family in one half: even ones for tuning, odd ones for the verdict; of each way to
 * draw the first of a share.
 */
export function seedsOf(family: Family, parity: 0 | 1, share: number): number[] {
  let start = 0;
  return ROWS[family].counts.flatMap((count) => {
    const first = start;
    start += count;
    const wanted = Math.ceil((count / 2) * share);
    return Array.from({ length: wanted }, (_, i) => first + 2 * i + parity);
  });
}

/** Makes the session of a seed of a family. */
export function makeSession(family: Family, seed: number, minimumRun: number): Session {
  return ROWS[family].make(seed, minimumRun);
}
