import { describe, expect, it } from 'vitest';
import { judge } from '../../../../core/checks/running.ts';
import { differenceFromFahrenheit } from '../../../../core/units/temperature.ts';
import type { JudgementInput } from '../../../../core/diagnosis/types.ts';
import { inputOf, NO_PLATE, type Written, SOUND } from './make.ts';

const nameplate = { ...NO_PLATE, targetSubcooling_K: differenceFromFahrenheit(10) };
const of = (written: Written, more: Partial<JudgementInput> = {}) =>
  judge(inputOf({ ...SOUND, ...written }, {}, { nameplate, ...more }));

describe('the check that is asked next', () => {
  it('is the standing pressure where gas that does not condense leads', () => {
    // Head far up, and both the subcooling and the liquid line over the air with it.
    const judged = of({ liquid: 530, liquidLine: 112, suction: 126, suctionLine: 54 });
    const [first] = judged.diagnosis.suspects;
    expect(first?.key).toBe('nonCondensables');
    expect(judged.diagnosis.nextCheck?.check).toBe('standing');
  });

  it('is the blower where filter, coil and ducts were found in order', () => {
    const low: Written = { suction: 95, liquid: 335, suctionLine: 38, liquidLine: 93, supply: 47 };
    expect(of(low).diagnosis.nextCheck?.check).toBe('filterStatic');
    const clear = of(low, { outcomes: [{ check: 'filterStatic', outcome: 'clear' }] }).diagnosis;
    expect(clear.nextCheck?.check).toBe('blowerSpeed');
    const slow = of(low, {
      outcomes: [
        { check: 'filterStatic', outcome: 'clear' },
        { check: 'blowerSpeed', outcome: 'slow' },
      ],
    }).diagnosis;
    expect(slow.suspects[0]?.key).toBe('lowIndoorAir');
    expect(slow.nextCheck).toBeNull();
  });

  it('is no recovery of the charge while a shorter one may find foreign gas in it', () => {
    // Subcooling 19 °F, head a little up: too much refrigerant, or gas.
    const { suspects, nextCheck } = of({ liquid: 392, liquidLine: 96 }).diagnosis;
    expect(suspects[0]?.key).toBe('overcharge');
    expect(nextCheck?.check).not.toBe('recoverWeigh');
  });

  it('is none once two clamps have shown the drier to be the obstacle', () => {
    const drier: Written = {
      suction: 88,
      liquid: 340,
      suctionLine: 58,
      liquidLine: 88,
      supply: 61,
    };
    const { suspects, nextCheck } = of({ ...drier, drierIn: 94, drierOut: 84 }).diagnosis;
    expect(suspects[0]?.key).toBe('liquidLineRestriction');
    expect(suspects[0]?.probability).toBeGreaterThan(0.9);
    expect(nextCheck).toBeNull();
  });
});
