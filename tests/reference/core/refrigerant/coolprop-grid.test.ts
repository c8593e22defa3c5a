import { readFileSync } from 'node:fs';

import { describe, expect, it } from 'vitest';
import { z } from 'zod';

import { REFRIGERANT_FILES } from '../../../../core/refrigerant/files.ts';
import { refrigerantFile } from '../../../../core/refrigerant/data-file.ts';
import { refrigerant } from '../../../../core/refrigerant/refrigerants.ts';
import { REFRIGERANT_IDS, type RefrigerantId } from '../../../../core/refrigerant/types.ts';

/**
 * Source of every number here: CoolProp 8.0.0 (open library, MIT licence), called by
 * core/refrigerant/generate at points that are no nodes of the fits, by its plain flashes.
 */
const row = z.tuple([z.number(), z.number(), z.number(), z.number(), z.number()]);
const grid = z.object({
  id: z.enum(REFRIGERANT_IDS),
  bubble: z.array(row),
  dew: z.array(row),
  superheated: z.array(row),
  subcooled: z.array(row),
});

const read = (id: RefrigerantId) =>
  grid.parse(
    JSON.parse(
      readFileSync(
        new URL(`../../../../fixtures/reference/refrigerant/${id}.json`, import.meta.url),
        'utf8',
      ),
    ),
  );

/** What the program promises: K, J/kg, J/(kg K) (0.1 % of the 1 kJ/(kg K) reference), relative. */
const PROMISED = { t: 0.002, h: 100, s: 1, rho: 1e-3 };
/** What the rounding of the grid itself can add (p to 1 mPa, T to 1e-7 K, h to 1 mJ/kg). */
const GRID = { t: 1e-6, h: 0.02, s: 1e-4, rho: 1e-6 };

describe.each(REFRIGERANT_IDS)('%s against CoolProp between the nodes', (id) => {
  const reference = read(id);
  const { curves } = refrigerant(id);
  const { maxError } = refrigerantFile.parse(REFRIGERANT_FILES[id]);
  const worst = (rows: readonly z.infer<typeof row>[], error: (r: z.infer<typeof row>) => number) =>
    Math.max(...rows.map(error));
  const expectWithin = (error: number, stated: number, grid_: number, promised: number) => {
    expect(error).toBeLessThanOrEqual(stated + grid_);
    expect(error).toBeLessThanOrEqual(promised);
  };

  it('has at least 200 points', () => {
    const { bubble, dew, superheated, subcooled } = reference;
    expect(bubble.length + dew.length + superheated.length + subcooled.length).toBeGreaterThan(200);
    expect(bubble.length + dew.length).toBe(120);
  });

  it('gives bubble and dew temperature', () => {
    const bubble = worst(reference.bubble, ([p, t]) => Math.abs(curves.tBubble(p) - t));
    const dew = worst(reference.dew, ([p, t]) => Math.abs(curves.tDew(p) - t));
    expectWithin(bubble, maxError.tBubble_K, GRID.t, PROMISED.t);
    expectWithin(dew, maxError.tDew_K, GRID.t, PROMISED.t);
  });

  it('gives bubble and dew pressure to what that temperature error means', () => {
    const error = (p: number, found: number, slope: number) => Math.abs(found - p) * slope;
    const bubble = worst(reference.bubble, ([p, t]) =>
      error(p, curves.pBubble(t), curves.tBubbleSlope(p)),
    );
    const dew = worst(reference.dew, ([p, t]) => error(p, curves.pDew(t), curves.tDewSlope(p)));
    expectWithin(bubble, maxError.tBubble_K + maxError.roundTrip_K, GRID.t, PROMISED.t);
    expectWithin(dew, maxError.tDew_K + maxError.roundTrip_K, GRID.t, PROMISED.t);
  });

  it('gives saturated and subcooled liquid', () => {
    const edge = reference.bubble;
    const rows = reference.subcooled;
    const h = Math.max(
      worst(edge, ([p, , h_]) => Math.abs(curves.hLiquidSat(p) - h_)),
      worst(rows, ([p, t, h_]) => Math.abs(curves.hLiquid(p, t) - h_)),
    );
    const s = Math.max(
      worst(edge, ([p, , , s_]) => Math.abs(curves.sLiquidSat(p) - s_)),
      worst(rows, ([p, t, , s_]) => Math.abs(curves.sLiquid(p, t) - s_)),
    );
    const rho = Math.max(
      worst(edge, ([p, , , , r]) => Math.abs(curves.rhoLiquidSat(p) / r - 1)),
      worst(rows, ([p, t, , , r]) => Math.abs(curves.rhoLiquid(p, t) / r - 1)),
    );
    expectWithin(h, maxError.hLiquid_J_kg, GRID.h, PROMISED.h);
    expectWithin(s, maxError.sLiquid_J_kgK, GRID.s, PROMISED.s);
    expectWithin(rho, maxError.rhoLiquid_relative, GRID.rho, PROMISED.rho);
  });

  it('gives saturated and superheated vapour', () => {
    const edge = reference.dew;
    const rows = reference.superheated;
    const h = Math.max(
      worst(edge, ([p, , h_]) => Math.abs(curves.hVapourSat(p) - h_)),
      worst(rows, ([p, t, h_]) => Math.abs(curves.hVapour(p, t) - h_)),
    );
    const s = Math.max(
      worst(edge, ([p, , , s_]) => Math.abs(curves.sVapourSat(p) - s_)),
      worst(rows, ([p, t, , s_]) => Math.abs(curves.sVapour(p, t) - s_)),
    );
    const rho = Math.max(
      worst(edge, ([p, , , , r]) => Math.abs(curves.rhoVapourSat(p) / r - 1)),
      worst(rows, ([p, t, , , r]) => Math.abs(curves.rhoVapour(p, t) / r - 1)),
    );
    expectWithin(h, maxError.hVapour_J_kg, GRID.h, PROMISED.h);
    expectWithin(s, maxError.sVapour_J_kgK, GRID.s, PROMISED.s);
    expectWithin(rho, maxError.rhoVapour_relative, GRID.rho, PROMISED.rho);
  });
});
