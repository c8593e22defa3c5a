import { describe, expect, it } from 'vitest';
import { judge } from '../../../../core/checks/running.ts';
import { refrigerant } from '../../../../core/refrigerant/refrigerants.ts';
import { kelvin } from '../../../../core/units/brands.ts';
import { pascalFromPsig } from '../../../../core/units/pressure.ts';
import { fahrenheitFromKelvin } from '../../../../core/units/temperature.ts';
import { inputOf, NO_PLATE, type Written } from '../../../unit/core/diagnosis/make.ts';
import { WORKED_CASES, type WorkedCase } from './worked-cases-data.ts';

/** The readings with pipe temperatures made of a printed superheat or subcooling. */
function withPipes(c: WorkedCase): Written {
  const { curves } = refrigerant(c.setup.refrigerant ?? 'R-410A');
  const inF = (t: number): number => fahrenheitFromKelvin(kelvin(t));
  let written = c.readings;
  if (c.superheat !== undefined && written.suction !== undefined) {
    const evaporating = inF(curves.tDew(pascalFromPsig(written.suction)));
    written = { ...written, suctionLine: evaporating + c.superheat };
  }
  if (c.subcooling !== undefined && written.liquid !== undefined) {
    const condensing = inF(curves.tBubble(pascalFromPsig(written.liquid)));
    written = { ...written, liquidLine: condensing - c.subcooling };
  }
  return written;
}

function judged(c: WorkedCase) {
  const plate = c.plate === undefined ? {} : { targetSubcooling_K: c.plate / 1.8 };
  return judge(inputOf(withPipes(c), c.setup, { nameplate: { ...NO_PLATE, ...plate }, ...c.more }));
}

describe('worked cases of the trade’s literature', () => {
  for (const c of WORKED_CASES) {
    it(c.name, () => {
      const { diagnosis, refusals, charge } = judged(c);
      const ranked = diagnosis.suspects.filter((s) => s.key !== 'cannotTell').map((s) => s.key);
      expect(
        ranked.slice(0, 2).some((key) => c.cause.includes(key)),
        ranked.slice(0, 3).join(),
      ).toBe(true);
      if (c.cause.includes('nothingWrong')) expect(diagnosis.answer).not.toBe('suspect');
      else expect(diagnosis.answer).not.toBe('nothingWrong');
      for (const code of c.refused ?? []) expect(refusals.map((r) => r.code)).toContain(code);
      if (c.charge !== undefined) expect(c.charge).toContain(charge.code);
      if (c.refused !== undefined) expect(charge.code).toBe('REFUSED');
      if (c.next !== undefined) expect(c.next).toContain(diagnosis.nextCheck?.check);
    });
  }
});
