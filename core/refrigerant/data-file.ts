import { z } from 'zod';

import { REFRIGERANT_IDS } from './types.ts';

const line = z.strictObject({
  from: z.number(),
  to: z.number(),
  c: z.array(z.number()).min(2),
});
const grid = z.array(z.array(z.number()).min(2)).min(2);
const error = z.number().positive();

/**
 * One file of `data/`, written by `generate/` and read by `refrigerants.ts`.
 *
 * `saturation` holds series of T in K over ln(p in Pa) and of ln(p in Pa) over T in K; `vapour` and
 * `liquid` hold two-dimensional series over u, linear in ln p between the ends of `saturation.tDew`,
 * and w, linear in ln(1 + d / stretch_K), where d is the superheat above dew or the subcooling
 * below bubble, from 0 to its maximum. h in J/kg, s in J/(kg K), rho in kg/m3, z the
 * compressibility factor p / (rho R T) with R = gasConstant_J_kgK.
 */
export const refrigerantFile = z.strictObject({
  id: z.enum(REFRIGERANT_IDS),
  source: z.strictObject({
    program: z.string().regex(/^CoolProp \d+\.\d+\.\d+$/),
    backend: z.literal('HEOS'),
    fluid: z.string().min(1),
    model: z.string().min(1),
    references: z.array(z.string().min(1)).min(1),
  }),
  safetyClass: z.strictObject({ value: z.enum(['A1', 'A2L', 'A3']), source: z.string().min(1) }),
  composition: z.strictObject({
    massFraction: z.record(z.string(), z.number().positive().max(1)),
    source: z.string().min(1),
  }),
  referenceState: z.string().min(1),
  molarMass_kg_mol: z.number().positive(),
  criticalTemperature_K: z.number().positive(),
  gasConstant_J_kgK: z.number().positive(),
  range: z.strictObject({
    pMin_Pa: z.number().positive(),
    pMax_Pa: z.number().positive(),
    tMin_K: z.number().positive(),
    tMax_K: z.number().positive(),
    superheatMax_K: z.number().min(80),
    subcoolingMax_K: z.number().min(40),
  }),
  /** Largest difference to CoolProp at points between the nodes of the fits. */
  maxError: z.strictObject({
    tBubble_K: error,
    tDew_K: error,
    roundTrip_K: error,
    hLiquid_J_kg: error,
    sLiquid_J_kgK: error,
    rhoLiquid_relative: error,
    hVapour_J_kg: error,
    sVapour_J_kgK: error,
    rhoVapour_relative: error,
  }),
  notes: z.array(z.string().min(1)),
  stretch_K: z.number().positive(),
  saturation: z.strictObject({ tBubble: line, pBubble: line, tDew: line, pDew: line }),
  vapour: z.strictObject({ h: grid, s: grid, z: grid }),
  liquid: z.strictObject({ h: grid, s: grid, rho: grid }),
});

export type RefrigerantFile = z.infer<typeof refrigerantFile>;
