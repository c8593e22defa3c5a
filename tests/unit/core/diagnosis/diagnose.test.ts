import { describe, expect, it } from 'vitest';
import { judge, judgeUnit } from '../../../../core/checks/running.ts';
import { CHECK_KEYS, checkRow } from '../../../../core/diagnosis/checks-table.ts';
import { information } from '../../../../core/diagnosis/next-check.ts';
import { foldedText, weighedText, weighty } from '../../../../core/diagnosis/evidence-text.ts';
import { classFit } from '../../../../core/diagnosis/likelihood.ts';
import { priors, SUSPECT_KEYS } from '../../../../core/diagnosis/suspects.ts';
import { chargeText } from '../../../../core/diagnosis/words.ts';
import type { JudgementInput } from '../../../../core/diagnosis/types.ts';
import { differenceFromFahrenheit } from '../../../../core/units/temperature.ts';
import {
  configOf,
  inputOf,
  probabilityOf,
  snapshotOf,
  SOUND,
  type Setup,
  type Written,
} from './make.ts';

const nameplate = {
  targetSubcooling_K: differenceFromFahrenheit(10),
  targetSuperheat_K: null,
  capacity_W: null,
  displacement_m3_s: null,
};
const of = (written: Written, more: Partial<JudgementInput> = {}, setup: Setup = {}) =>
  judge(inputOf({ ...SOUND, ...written }, setup, { nameplate, ...more }));

// Worked cases of the trade (common practice, no source), R-410A with a valve unless said.
describe('worked cases', () => {
  it('high superheat with low subcooling is too little refrigerant, never as a weight', () => {
    const judgement = of({
      suction: 100,
      liquid: 320,
      suctionLine: 58,
      liquidLine: 98,
      supply: 60,
    });
    expect(judgement.diagnosis.suspects[0]?.key).toBe('lowCharge');
    expect(judgement.charge.code).toBe('LIKELY_LOW');
    const text = chargeText(judgement.charge, 'us');
    expect(text).toContain('find the leak and repair it first');
    expect(text).not.toMatch(/\d\s*(oz|lb|ounce|pound|kg|g)\b/);
  });

  it('high subcooling with superheat held and high head is too much refrigerant', () => {
    const judgement = of({ liquid: 420, liquidLine: 97 });
    expect(judgement.diagnosis.suspects[0]?.key).toBe('overcharge');
  });

  it('low suction with a large air drop is too little air, and the charge is left alone', () => {
    const judgement = of({ suction: 95, liquid: 335, suctionLine: 38, liquidLine: 93, supply: 47 });
    expect(judgement.diagnosis.suspects[0]?.key).toBe('lowIndoorAir');
    expect(judgement.charge.code).toBe('REFUSED');
    expect(judgement.diagnosis.nextCheck?.check).toBe('filterStatic');
  });

  it('high superheat with high subcooling and a cold drier outlet is a restriction', () => {
    const judgement = of({
      suction: 88,
      liquid: 340,
      suctionLine: 58,
      liquidLine: 88,
      supply: 61,
      drierIn: 94,
      drierOut: 86,
    });
    expect(judgement.diagnosis.suspects[0]?.key).toBe('liquidLineRestriction');
    expect(judgement.diagnosis.suspects[0]?.probability).toBeGreaterThan(0.8);
  });

  it('a condenser far above the air with usual subcooling is a fouled outdoor coil', () => {
    const judgement = of({ suction: 128, liquid: 480, liquidLine: 121.5, suctionLine: 55 });
    const first = judgement.diagnosis.suspects.slice(0, 2).map((s) => s.key);
    expect(first).toContain('fouledOutdoorCoil');
  });

  it('high suction with low head and few amperes is a compressor that pumps badly', () => {
    const judgement = of(
      { suction: 165, liquid: 290, suctionLine: 72, liquidLine: 88, supply: 66 },
      { outcomes: [{ check: 'amperes', outcome: 'low' }] },
    );
    expect(judgement.diagnosis.suspects[0]?.key).toBe('compressorValveLeak');
  });

  it('a suction line colder than the refrigerant in it is an instrument', () => {
    const judgement = of({ suctionLine: 30 });
    expect(judgement.diagnosis.suspects[0]?.key).toBe('sensorFault');
    expect(judgement.diagnosis.nextCheck?.check).toBe('sensorCheck');
  });

  it('many short runs are short cycling, although nothing can be read', () => {
    const judgement = of(
      {},
      { pattern: { starts: 9, medianRun: 150, span: 3600 } },
      { state: 'moving' },
    );
    expect(judgement.diagnosis.suspects[0]?.key).toBe('shortCycling');
    expect(judgement.verdicts).toEqual([]);
  });

  it('oil and a low charge strengthen each other', () => {
    const written = { suction: 115, liquid: 345, liquidLine: 100 };
    const without = probabilityOf(of(written).diagnosis.suspects, 'lowCharge');
    const seen = of(written, { observations: ['oilTraces'] });
    expect(probabilityOf(seen.diagnosis.suspects, 'lowCharge')).toBeGreaterThan(without + 0.1);
  });
});

describe('what experience adds', () => {
  it('believes two clamps that show a drop across the drier, and does not ask for it again', () => {
    // Everything else is as in a sound unit, but liquid does not cool by 12 °F in a drier.
    const judgement = of({ drierIn: 99, drierOut: 87 });
    expect(judgement.diagnosis.suspects[0]?.key).toBe('liquidLineRestriction');
    expect(judgement.diagnosis.checks.map((c) => c.check)).not.toContain('drierDrop');
    expect(of({ drierIn: 99, drierOut: 98.8 }).diagnosis.answer).toBe('nothingWrong');
  });

  it('names exchanged pipe clamps, not a drier', () => {
    const judgement = of({ suctionLine: 99.5, liquidLine: 52 });
    expect(judgement.diagnosis.suspects[0]?.key).toBe('sensorFault');
    expect(judgement.diagnosis.suspects[0]?.probability).toBeGreaterThan(0.8);
  });

  it('takes a starved orifice for little refrigerant also without the outdoor air', () => {
    // R-22 behind an orifice: 44 °F of superheat, no subcooling.
    const written = { suction: 48, liquid: 190, suctionLine: 68, liquidLine: 100 };
    const { suspects } = judge(
      inputOf(written, { refrigerant: 'R-22', metering: 'fixed' }),
    ).diagnosis;
    expect(suspects[0]?.key).toBe('lowCharge');
  });

  it('looks for the leak of a charge that is surely low before it doubts the instruments', () => {
    const low = of({ suction: 100, liquid: 320, suctionLine: 58, liquidLine: 98, supply: 60 });
    expect(low.diagnosis.suspects[0]?.probability).toBeGreaterThan(0.7);
    expect(low.diagnosis.nextCheck?.check).toBe('leakSearch');
  });

  it('keeps a large condenser split with much subcooling open for the outdoor coil', () => {
    // 38 °F over the outdoor air with 18 °F of subcooling: the liquid is far above the air.
    const judgement = of({ liquid: 465, liquidLine: 110 });
    const first = judgement.diagnosis.suspects.slice(0, 2).map((s) => s.key);
    expect(first).toContain('fouledOutdoorCoil');
  });

  it('does not call sound what faults together outweigh', () => {
    // Superheat 21 °F with the subcooling right: hardly any rule forbids it, no valve should do it.
    const judgement = of({ suctionLine: 63 });
    expect(judgement.diagnosis.answer).not.toBe('nothingWrong');
  });

  it('shows what carries weight and folds the rest', () => {
    const suspect = of({ liquid: 320, liquidLine: 98 }).diagnosis.suspects[0];
    if (suspect === undefined) throw new Error('no suspect');
    const shown = weighty(suspect);
    const all = [...suspect.for, ...suspect.against];
    expect(shown.for.length + shown.against.length + shown.folded).toBe(all.length);
    expect([...shown.for, ...shown.against].every((w) => Math.abs(w.weight) >= 0.5)).toBe(true);
    expect(foldedText(0)).toBeNull();
    expect(foldedText(3)).toBe('3 more signs say little.');
  });
});

describe('what the judge does not know', () => {
  it('says nothing clearly wrong of a unit it knows little of, and less firmly', () => {
    const little = judge(inputOf({ suction: 122, liquid: 365 }));
    const much = of({});
    const p = (j: typeof little) => probabilityOf(j.diagnosis.suspects, 'nothingWrong');
    expect(p(much)).toBeGreaterThan(p(little));
  });

  it('reads the same numbers less firmly with worse instruments', () => {
    const written = { suction: 108, liquid: 335, suctionLine: 56, liquidLine: 101 };
    const good = of(written).diagnosis.suspects[0];
    const poor = of(written, {}, { good: false }).diagnosis.suspects[0];
    expect(good?.key).toBe('lowCharge');
    expect(poor?.probability).toBeLessThan(good?.probability ?? 0);
  });

  it('prefers the own healthy visit to every rule', () => {
    // A unit whose condenser always stood 30 °F over the air is healthy at 30 °F over the air.
    const high: Written = { ...SOUND, liquid: 418, liquidLine: 109.5 };
    const baseline = { label: 'last year', config: configOf({}), content: snapshotOf(high) };
    const without = judge(inputOf(high, {}, { nameplate }));
    const withIt = judge(inputOf(high, {}, { nameplate, baseline }));
    const p = (j: typeof without) => probabilityOf(j.diagnosis.suspects, 'nothingWrong');
    expect(p(withIt)).toBeGreaterThan(p(without) + 0.05);
    expect(withIt.diagnosis.answer).toBe('nothingWrong');
  });

  it('prefers the own healthy visit also where other weather makes it the wider', () => {
    // Subcooling 4 °F over its plate on the healthy day as well, 20 °F cooler outdoors.
    const now: Written = { ...SOUND, liquidLine: SOUND.liquidLine! - 4 };
    const then: Written = { ...now, outdoor: 70, liquid: 271, liquidLine: 76 };
    const baseline = { label: 'cool day', config: configOf({}), content: snapshotOf(then) };
    const { evidence } = judgeUnit(inputOf(now, {}, { nameplate, baseline }));
    const sources = evidence.pieces.flatMap(({ item }) =>
      item.kind === 'residual' && item.feature === 'subcooling' ? [item.source] : [],
    );
    expect(sources).toEqual(['baseline']);
  });

  it('does not take a healthy day of unknown weather for one of today’s', () => {
    // The same sound unit on a day 8 °F cooler: 8 °F lower condensing and liquid.
    const cooler: Written = { ...SOUND, outdoor: 82, liquid: 324, liquidLine: 91.5 };
    const known = Object.entries(cooler).filter(([key]) => key !== 'outdoor');
    const unknown: Written = Object.fromEntries(known);
    const soundBeside = (written: Written): number => {
      const baseline = { label: 'cooler', config: configOf({}), content: snapshotOf(written) };
      const { suspects } = judge(inputOf(SOUND, {}, { nameplate, baseline })).diagnosis;
      return probabilityOf(suspects, 'nothingWrong');
    };
    expect(soundBeside(cooler)).toBeGreaterThan(0.8);
    expect(soundBeside(unknown)).toBeGreaterThan(0.7);
  });

  it('does not take another machine for a baseline', () => {
    const content = snapshotOf(SOUND);
    const baseline = { label: 'other', config: configOf({ metering: 'fixed' }), content };
    const judged = judge(inputOf(SOUND, {}, { nameplate, baseline }));
    expect(judged).toEqual(judge(inputOf(SOUND, {}, { nameplate })));
  });
});

describe('the machinery', () => {
  it('keeps probabilities that sum to one', () => {
    for (const written of [{}, { suction: 60 }, { liquid: 500 }, { suctionLine: 90 }]) {
      const sum = of(written).diagnosis.suspects.reduce((s, x) => s + x.probability, 0);
      expect(sum).toBeCloseTo(1, 9);
    }
  });

  it('has outcomes that sum to one under every suspect, and known keys', () => {
    for (const key of CHECK_KEYS) {
      const row = checkRow(key);
      const n = Object.keys(row.outcomes).length;
      for (const given of [row.otherwise, ...Object.values(row.given)]) {
        expect(given).toHaveLength(n);
        expect(given.reduce((a, b) => a + b, 0)).toBeCloseTo(1, 9);
      }
      expect(row.minutes).toBeGreaterThan(0);
    }
  });

  it('expects no information about what is certain', () => {
    const belief = priors('txv', 'cooling', false);
    expect(information(belief, 'filterStatic', 'cooling')).toBeGreaterThan(0.05);
    const certain = Object.fromEntries(
      SUSPECT_KEYS.map((k) => [k, k === 'lowCharge' ? 1 : 0]),
    ) as typeof belief;
    expect(information(certain, 'filterStatic', 'cooling')).toBeCloseTo(0, 9);
  });

  it('does not propose a check that was made', () => {
    const outcomes = [{ check: 'filterStatic', outcome: 'clear' }] as const;
    const checks = of({}, { outcomes }).diagnosis.checks.map((c) => c.check);
    expect(checks).not.toContain('filterStatic');
  });

  it('asks for no further check once one has shown the cause', () => {
    const low: Written = { suction: 95, liquid: 318, suctionLine: 62, liquidLine: 97 };
    expect(of(low).diagnosis.nextCheck).not.toBeNull();
    const found = of(low, { outcomes: [{ check: 'recoverWeigh', outcome: 'low' }] }).diagnosis;
    expect(found.suspects[0]?.key).toBe('lowCharge');
    expect(found.nextCheck).toBeNull();
    const clear = of(low, { outcomes: [{ check: 'filterStatic', outcome: 'clear' }] }).diagnosis;
    expect(clear.nextCheck).not.toBeNull();
  });

  it('has class densities that integrate to one, also for an exact measurement', () => {
    for (const sd of [0.02, 0.5, 3]) {
      const step = 0.01;
      const sums = [0, 0, 0, 0, 0, 0];
      for (let x = -60; x <= 60; x += step) {
        const { same, sound, gross, mild } = classFit({ feature: 'superheat', value: x, sd });
        const all = [same, sound, gross.below, gross.above, mild.below, mild.above];
        all.forEach((density, i) => (sums[i] = (sums[i] ?? 0) + density * step));
      }
      for (const total of sums) expect(total).toBeCloseTo(1, 2);
    }
  });

  it('puts evidence into plain words', () => {
    const suspect = of({ liquid: 320, liquidLine: 98 }).diagnosis.suspects.find(
      (s) => s.key === 'lowCharge',
    );
    const lines = (suspect?.for ?? []).map((w) => weighedText(w, 'cooling', 'us'));
    expect(lines.join(' ')).toMatch(
      /Subcooling .* below what is expected \(its target gives 10\.0 °F/,
    );
    const si = (suspect?.for ?? []).map((w) => weighedText(w, 'cooling', 'si')).join(' ');
    expect(si).not.toContain('°F');
  });
});
