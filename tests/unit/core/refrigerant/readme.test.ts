import { readFileSync } from 'node:fs';

import { expect, it } from 'vitest';

import { refrigerantFile } from '../../../../core/refrigerant/data-file.ts';
import { REFRIGERANT_FILES } from '../../../../core/refrigerant/files.ts';
import { REFRIGERANT_IDS } from '../../../../core/refrigerant/types.ts';

const readme = readFileSync(
  new URL('../../../../core/refrigerant/README.md', import.meta.url),
  'utf8',
);

it.each(REFRIGERANT_IDS)('the README states the errors that the file of %s carries', (id) => {
  const line = readme.split('\n').find((text) => text.startsWith(`| ${id} `));
  const cells = line?.split('|').map((cell) => cell.trim()) ?? [];
  const { maxError: e, source } = refrigerantFile.parse(REFRIGERANT_FILES[id]);
  expect(cells[2]).toBe(source.fluid);
  expect(cells.slice(4, 12).map(Number)).toEqual([
    e.tBubble_K,
    e.tDew_K,
    e.hLiquid_J_kg,
    e.hVapour_J_kg,
    e.sLiquid_J_kgK,
    e.sVapour_J_kgK,
    e.rhoLiquid_relative,
    e.rhoVapour_relative,
  ]);
});
