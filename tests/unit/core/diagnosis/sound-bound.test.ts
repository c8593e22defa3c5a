import { describe, expect, it } from 'vitest';
import { judge } from '../../../../core/checks/running.ts';
import { answerText } from '../../../../core/diagnosis/answer-text.ts';
import { evidenceText } from '../../../../core/diagnosis/evidence-text.ts';
import { priors } from '../../../../core/diagnosis/suspects.ts';
import { bounded } from '../../../../core/diagnosis/sound-bound.ts';
import { chargeText } from '../../../../core/diagnosis/words.ts';
import { differenceFromFahrenheit } from '../../../../core/units/temperature.ts';
import { configOf, inputOf, NO_PLATE, probabilityOf, snapshotOf, type Written } from './make.ts';

const nameplate = { ...NO_PLATE, targetSubcooling_K: differenceFromFahrenheit(10) };
const AIR = { outdoor: 90, return: 75, wetBulb: 63, supply: 57 };
const of = (written: Written, good: boolean) =>
  judge(inputOf({ ...AIR, ...written }, { good }, { nameplate }));

describe('"nothing wrong" beside the verdicts', () => {
  it('does not lead where superheat is far up and subcooling hangs below its target', () => {
    // Superheat about 23 °F, subcooling about 6.5 °F against 10 ± 3 °F, usual instruments.
    const judged = of({ suction: 122, liquid: 358, suctionLine: 65.3, liquidLine: 101.5 }, false);
    const verdict = judged.verdicts.find((v) => v.quantity === 'subcooling');
    expect(verdict?.verdict).toBe('undecided');
    expect(judged.diagnosis.answer).not.toBe('nothingWrong');
    const bound = verdict?.probability.within ?? 1;
    expect(probabilityOf(judged.diagnosis.suspects, 'nothingWrong')).toBeLessThanOrEqual(bound);
  });

  it('is out of the question where a verdict is decided', () => {
    const judged = of({ suction: 122, liquid: 350, suctionLine: 52, liquidLine: 103.5 }, true);
    expect(judged.verdicts.find((v) => v.quantity === 'subcooling')?.verdict).toBe('below');
    expect(judged.diagnosis.suspects[0]?.key).not.toBe('nothingWrong');
    expect(probabilityOf(judged.diagnosis.suspects, 'nothingWrong')).toBeLessThan(0.03);
  });

  it('stands where the unit’s own healthy visit explains the reading', () => {
    const high = { ...AIR, suction: 122, liquid: 365, suctionLine: 52, liquidLine: 94 };
    const baseline = { label: 'last year', config: configOf({}), content: snapshotOf(high) };
    const judged = judge(inputOf(high, {}, { nameplate, baseline }));
    expect(judged.verdicts.find((v) => v.quantity === 'subcooling')?.verdict).toBe('above');
    expect(judged.diagnosis.answer).toBe('nothingWrong');
  });

  it('gives the rest in their old proportions', () => {
    const before = priors('txv', 'cooling', true);
    const after = bounded(before, 0.1);
    expect(after.nothingWrong).toBeCloseTo(0.1, 12);
    expect(after.lowCharge / after.overcharge).toBeCloseTo(before.lowCharge / before.overcharge, 9);
    expect(bounded(before, 0.9)).toBe(before);
  });

  it('gives nothing to what shows in how a unit runs and in no figure', () => {
    const before = priors('txv', 'cooling', true);
    const after = bounded(before, 0.1);
    expect(after.shortCycling).toBe(before.shortCycling);
    expect(after.valveHunting).toBe(before.valveHunting);
    const sum = Object.values(after).reduce((total, p) => total + p, 0);
    expect(sum).toBeCloseTo(1, 12);
  });
});

describe('"nothing wrong" is no answer', () => {
  // What is at hand reads as in a sound unit; only how it was read differs.
  const sound: Written = { ...AIR, suction: 122, liquid: 365, suctionLine: 52, liquidLine: 99.5 };

  it('of a unit that swings', () => {
    const still = judge(inputOf(sound, {}, { nameplate }));
    const swings = judge(inputOf(sound, { state: 'hunting' }, { nameplate }));
    expect(still.diagnosis.answer).toBe('nothingWrong');
    expect(swings.diagnosis.answer).not.toBe('nothingWrong');
  });

  it('beside something that may hurt the compressor', () => {
    const judged = judge(inputOf({ ...sound, suctionLine: 41.5, discharge: 250 }));
    expect(judged.hazards.length).toBeGreaterThan(0);
    expect(judged.diagnosis.answer).not.toBe('nothingWrong');
  });

  it('in heating by general rules alone, but beside a healthy visit', () => {
    const heating = { mode: 'heating' } as const;
    const written: Written = {
      suction: 88,
      liquid: 325,
      suctionLine: 37,
      liquidLine: 85,
      outdoor: 40,
      return: 70,
      supply: 96,
    };
    const rules = judge(inputOf(written, heating));
    expect(rules.diagnosis.suspects[0]?.key).toBe('nothingWrong');
    expect(rules.diagnosis.answer).toBe('cannotTell');
    const content = snapshotOf(written, heating);
    const baseline = { label: 'last year', config: configOf(heating), content };
    expect(judge(inputOf(written, heating, { baseline })).diagnosis.answer).toBe('nothingWrong');
  });

  it('where one figure has left the healthy visit and the rest agrees', () => {
    const baseline = { label: 'last year', config: configOf({}), content: snapshotOf(sound) };
    const answerAt = (suctionLine: number) =>
      judge(inputOf({ ...sound, suctionLine }, {}, { nameplate, baseline })).diagnosis.answer;
    expect(answerAt(52)).toBe('nothingWrong');
    expect(answerAt(54)).toBe('nothingWrong');
    // Superheat 8 °F up, as by a valve at the end of its stroke: an odd figure, not yet a cause.
    expect(answerAt(60)).not.toBe('nothingWrong');
    const judged = judge(inputOf({ ...sound, suctionLine: 60 }, {}, { nameplate, baseline }));
    expect(judged.charge).toMatchObject({ code: 'AGREES', alone: false });
    expect(chargeText(judged.charge, 'us')).toContain('By this figure the charge agrees');
    const odd = judged.diagnosis;
    expect(answerText(odd, [], 'cooling').line).toContain('one figure stands out: Superheat');
    expect(answerText(odd, []).line).not.toContain('Superheat');
  });
});

describe('a leaking reversing valve in heating, the clamp behind it', () => {
  it('is the first suspect beside the unit’s own healthy visit, and is looked for by touch', () => {
    const heating = { mode: 'heating' } as const;
    const AIR_H = { outdoor: 45, return: 70 };
    const was: Written = { ...AIR_H, suction: 88, liquid: 325, suctionLine: 36, liquidLine: 85 };
    const baseline = {
      label: 'last year',
      config: configOf(heating),
      content: snapshotOf({ ...was, supply: 97, discharge: 160 }, heating),
    };
    // Hot gas into the suction: evaporating and superheat up, condensing and the air's rise down.
    const now: Written = { ...AIR_H, suction: 92, liquid: 303, suctionLine: 58, liquidLine: 80 };
    const { diagnosis } = judge(
      inputOf({ ...now, supply: 92, discharge: 163 }, heating, { baseline, heatPump: true }),
    );
    expect(diagnosis.suspects[0]?.key).toBe('reversingValveLeak');
    expect(diagnosis.nextCheck?.check).toBe('touchReversing');
  });
});

describe('a liquid clamp that came off while it ran', () => {
  it('is an instrument first, and no reason to recover refrigerant', () => {
    // Subcooling about 19 °F: by itself the picture of too much refrigerant.
    const fallen: Written = { ...AIR, suction: 122, liquid: 365, suctionLine: 52, liquidLine: 91 };
    const input = inputOf(fallen, {}, { nameplate });
    const by = differenceFromFahrenheit(-9);
    const movedAlone = [{ channel: 'liquidLineTemp' as const, by, at: 900 }];
    expect(judge(input).diagnosis.suspects[0]?.key).toBe('overcharge');
    const judged = judge({ ...input, content: { ...input.content, movedAlone } });
    expect(judged.diagnosis.suspects[0]?.key).toBe('sensorFault');
    expect(judged.diagnosis.nextCheck?.check).toBe('sensorCheck');
    expect(judged.charge.code).toBe('LOOK_FIRST');
    const seen = judged.diagnosis.suspects[0]?.for.map((w) => w.item) ?? [];
    const said = seen.map((item) => evidenceText(item, 'cooling', 'us'));
    expect(said.some((text) => text.includes('The clamp on the liquid line moved by 9.0 °F'))).toBe(
      true,
    );
  });
});
