import { readdirSync } from 'node:fs';

import { describe, expect, it } from 'vitest';

import { refrigerantFile } from '../../../../core/refrigerant/data-file.ts';
import { REFRIGERANT_FILES } from '../../../../core/refrigerant/files.ts';
import { REFRIGERANT_IDS } from '../../../../core/refrigerant/types.ts';

describe('the generated refrigerant files', () => {
  it('are one for each refrigerant and no more', () => {
    const names = readdirSync(new URL('../../../../core/refrigerant/data', import.meta.url));
    expect(names.sort()).toEqual(REFRIGERANT_IDS.map((id) => `${id}.json`).sort());
  });

  it.each(REFRIGERANT_IDS)('%s follows the schema and keeps the promised accuracy', (id) => {
    const file = refrigerantFile.parse(REFRIGERANT_FILES[id]);
    expect(file.id).toBe(id);
    expect(file.maxError.tBubble_K).toBeLessThanOrEqual(0.002);
    expect(file.maxError.tDew_K).toBeLessThanOrEqual(0.002);
    expect(file.maxError.roundTrip_K).toBeLessThanOrEqual(1e-4);
    expect(Math.max(file.maxError.hLiquid_J_kg, file.maxError.hVapour_J_kg)).toBeLessThan(100);
    // 0.1 % of the 1 kJ/(kg K) to which entropy is referred.
    expect(Math.max(file.maxError.sLiquid_J_kgK, file.maxError.sVapour_J_kgK)).toBeLessThan(1);
    const { rhoLiquid_relative, rhoVapour_relative } = file.maxError;
    expect(Math.max(rhoLiquid_relative, rhoVapour_relative)).toBeLessThan(1e-3);
  });

  it.each(REFRIGERANT_IDS)('%s reaches from -40 degC to 65 degC or 0.98 Tc, and further', (id) => {
    const { range, criticalTemperature_K } = refrigerantFile.parse(REFRIGERANT_FILES[id]);
    expect(range.tMin_K).toBeLessThanOrEqual(233.15);
    expect(range.tMax_K).toBeGreaterThanOrEqual(Math.min(338.15, 0.98 * criticalTemperature_K));
    expect(range.pMin_Pa).toBeLessThan(70_109); // the atmosphere at 3000 m
  });

  it.each(REFRIGERANT_IDS)('%s has mass fractions that add up to one', (id) => {
    const { composition } = refrigerantFile.parse(REFRIGERANT_FILES[id]);
    const sum = Object.values(composition.massFraction).reduce((a, b) => a + b, 0);
    expect(sum).toBeCloseTo(1, 6);
  });

  it('refuses a file with a missing or an unknown part', () => {
    const good = refrigerantFile.parse(REFRIGERANT_FILES['R-32']);
    expect(refrigerantFile.safeParse({ ...good, maxError: undefined }).success).toBe(false);
    expect(refrigerantFile.safeParse({ ...good, extra: 1 }).success).toBe(false);
    expect(refrigerantFile.safeParse({ ...good, id: 'R-999' }).success).toBe(false);
  });
});
