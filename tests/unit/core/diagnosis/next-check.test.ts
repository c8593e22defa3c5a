import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { answerText } from '../../../../core/diagnosis/answer-text.ts';
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

  it('is no recovery of too much refrigerant before the standing pressure has spoken', () => {
    const readings = fc.record({
      liquid: fc.double({ min: 375, max: 470, noNaN: true }),
      liquidLine: fc.double({ min: 88, max: 108, noNaN: true }),
      suctionLine: fc.double({ min: 47, max: 60, noNaN: true }),
    });
    let led = 0;
    fc.assert(
      fc.property(readings, fc.boolean(), (w, looked) => {
        const outcomes = looked ? ([{ check: 'drierDrop', outcome: 'none' }] as const) : [];
        const { suspects, nextCheck } = of(w, { outcomes }).diagnosis;
        if (suspects.find((s) => s.key !== 'nothingWrong')?.key !== 'overcharge') return;
        led += 1;
        expect(nextCheck?.check).not.toBe('recoverWeigh');
      }),
      { numRuns: 200, seed: 5 },
    );
    expect(led).toBeGreaterThan(50);
  });

  it('only confirms once two clamps have shown the drier to be the obstacle, and is none once somebody has looked', () => {
    const drier: Written = {
      suction: 88,
      liquid: 340,
      suctionLine: 58,
      liquidLine: 88,
      supply: 61,
    };
    const cold: Written = { ...drier, drierIn: 94, drierOut: 84 };
    const { diagnosis, refusals } = of(cold);
    const [first] = diagnosis.suspects;
    expect(first?.key).toBe('liquidLineRestriction');
    expect(first?.probability).toBeGreaterThan(0.9);
    expect(diagnosis.nextCheck).toMatchObject({ check: 'drierDrop', confirms: true });
    expect(answerText(diagnosis, refusals, 'cooling').line).toContain('only confirms it');
    const looked = of(cold, { outcomes: [{ check: 'drierDrop', outcome: 'drop' }] }).diagnosis;
    expect(looked.answer).toBe('suspect');
    expect(looked.nextCheck).toBeNull();
  });

  it('is never left out before work that opens the circuit, unless somebody has made one', () => {
    const between = (min: number, max: number) => fc.double({ min, max, noNaN: true });
    const written = fc.record({
      suction: between(70, 150),
      liquid: between(260, 560),
      suctionLine: between(35, 80),
      liquidLine: between(80, 120),
      supply: between(45, 68),
      drierIn: between(88, 92),
      drierOut: between(70, 92),
    });
    fc.assert(
      fc.property(written, (w) => {
        const { answer, nextCheck } = of(w).diagnosis;
        if (answer !== 'suspect') return;
        expect(nextCheck).not.toBeNull();
      }),
      { numRuns: 300, seed: 3 },
    );
  });
});
