import { describe, expect, it } from 'vitest';
import { compare } from '../../../../core/checks/compare.ts';
import { judge } from '../../../../core/checks/running.ts';
import { comparisonText, pairText } from '../../../../core/diagnosis/compare-text.ts';
import { differenceFromFahrenheit } from '../../../../core/units/temperature.ts';
import {
  inputOf,
  NO_PLATE,
  probabilityOf,
  SOUND,
  type Setup,
  type Written,
} from '../diagnosis/make.ts';
import type { JudgementInput } from '../../../../core/diagnosis/types.ts';

const unit = (
  label: string,
  written: Written,
  more: Partial<JudgementInput> = {},
  setup: Setup = {},
) => ({ label, takenAt: 0, input: inputOf(written, setup, { heatPump: true, ...more }) });

// Common practice, no source: two like R-410A heat pumps side by side in cooling.
const A: Written = { suction: 103, liquid: 331, suctionLine: 43, liquidLine: 85.5 };
const B: Written = { suction: 125, liquid: 275 };

describe('two like units at 103/331 and 125/275 psig', () => {
  for (const good of [true, false]) {
    for (const plate of [null, differenceFromFahrenheit(10)]) {
      const more = {
        nameplate: { ...NO_PLATE, targetSubcooling_K: plate },
      };
      const name = `${good ? 'good' : 'usual'} instruments, plate ${plate === null ? 'un' : ''}known`;
      it(`are not simply low on charge (${name})`, () => {
        const result = compare([unit('A', A, more, { good }), unit('B', B, more, { good })]);
        const [a, b] = result.units.map((u) => u.diagnosis);
        const faults = (d: typeof a) =>
          (d?.suspects ?? [])
            .filter((s) => s.key !== 'nothingWrong')
            .slice(0, 3)
            .map((s) => s.key);
        expect(faults(a)).toContain('liquidLineRestriction');
        expect(faults(a)).toContain('overcharge');
        expect(probabilityOf(a?.suspects ?? [], 'lowCharge')).toBeLessThan(0.06);
        const pumping = ['compressorValveLeak', 'reversingValveLeak', 'lowCharge'];
        expect(faults(b).every((key) => pumping.includes(key))).toBe(true);
        expect(a?.nextCheck?.check).toBe('drierDrop');
        expect(['amperes', 'touchReversing', 'pumpDown']).toContain(b?.nextCheck?.check);
        const text = comparisonText(result, 'cooling', 'us').join(' ');
        expect(text).toContain('the amount of charge alone does not explain it');
        expect(text).toContain('restriction before the valve');
        expect(text).toContain('taken as equal');
      });
    }
  }

  it('comes to the same whichever is named first', () => {
    const ab = compare([unit('A', A), unit('B', B)]).units[0];
    const ba = compare([unit('B', B), unit('A', A)]).units[1];
    const p = (u: typeof ab, key: string) => probabilityOf(u?.diagnosis.suspects ?? [], key);
    for (const key of ['overcharge', 'liquidLineRestriction', 'nothingWrong']) {
      expect(p(ab, key)).toBeCloseTo(p(ba, key), 9);
    }
  });
});

describe('a coil iced over a plugged filter beside a twin that did not, with equal charge', () => {
  it('leads to the air', () => {
    const result = compare([
      unit(
        'A',
        { suction: 85, liquid: 331, suctionLine: 30, liquidLine: 95 },
        { observations: ['icedCoil', 'dirtyFilter', 'equalChargeWeighed'] },
      ),
      unit(
        'B',
        { suction: 125, liquid: 345, suctionLine: 54, liquidLine: 97 },
        { observations: ['equalChargeWeighed'] },
      ),
    ]);
    const a = result.units[0]?.diagnosis;
    expect(a?.suspects[0]?.key).toBe('lowIndoorAir');
    expect(a?.nextCheck?.check).toBe('filterStatic');
    expect(probabilityOf(a?.suspects ?? [], 'lowCharge')).toBeLessThan(0.02);
    expect(result.pairs[0]?.unlike).toBe('notReadable');
    expect(comparisonText(result, 'cooling', 'us').join(' ')).toContain('Thaw it completely');
  });
});

describe('differences', () => {
  it('take a warmer day out of the condensing temperature, and say so', () => {
    const warmer: Written = { ...SOUND, outdoor: 95, liquid: 391, liquidLine: 104.3 };
    const result = compare([unit('A', warmer), unit('B', SOUND)]);
    const condensing = result.pairs[0]?.differences.find((d) => d.feature === 'condensing');
    expect(condensing?.plain).toBeGreaterThan(differenceFromFahrenheit(4.5));
    expect(Math.abs(condensing?.corrected ?? 99)).toBeLessThan(condensing?.u ?? 0);
    const pair = result.pairs[0];
    expect(pair === undefined ? '' : pairText(pair, 'cooling', 'us').join(' ')).toContain(
      'for the different conditions',
    );
    expect(result.units.every((u) => u.diagnosis.answer === 'nothingWrong')).toBe(true);
  });

  it('tell a coil fed too little from one short of air by the superheat', () => {
    const words = (suctionLine: number, liquidLine = 99.5): string => {
      const odd: Written = { ...SOUND, suction: 100, suctionLine, liquidLine };
      const [pair] = compare([unit('A', odd), unit('B', SOUND)]).pairs;
      return pair === undefined ? '' : pairText(pair, 'cooling', 'us').join(' ');
    };
    expect(words(60)).toContain('fed too little (a restriction');
    expect(words(60)).not.toContain('subcooling is');
    expect(words(60, 91)).toContain('liquid backs up before a restriction');
    expect(words(60, 107)).toContain('the charge comes first');
    expect(words(41)).toContain('short of air over the indoor coil rather than');
  });

  it('see a starved coil also where condensing is lower, and a restriction in a colder drier', () => {
    const starved: Written = { ...SOUND, suction: 85, suctionLine: 70, liquid: 335 };
    const words = (odd: Written): string => {
      const [pair] = compare([
        unit('A', odd),
        unit('B', { ...SOUND, drierIn: 99.5, drierOut: 99.5 }),
      ]).pairs;
      return pair === undefined ? '' : pairText(pair, 'cooling', 'us').join(' ');
    };
    const plain = words(starved);
    expect(plain).toContain('A evaporates and condenses lower than B: its superheat is higher');
    expect(plain).not.toContain('too little indoor air');
    expect(words({ ...starved, drierIn: 99.5, drierOut: 92 })).toContain('colder across the drier');
    expect(words({ ...starved, suctionLine: 34 })).toContain('Look at the air of both first');
  });

  it('strengthen "nothing wrong" in two healthy twins', () => {
    const alone = compare([unit('A', SOUND)]).units[0];
    const beside = compare([unit('A', SOUND), unit('B', SOUND)]).units[0];
    const p = (u: typeof alone) => probabilityOf(u?.diagnosis.suspects ?? [], 'nothingWrong');
    expect(p(beside)).toBeGreaterThan(p(alone));
  });

  it('do not compare unlike units, and keep every value as read', () => {
    const other = unit('B', SOUND, {}, { metering: 'fixed' });
    const result = compare([unit('A', SOUND), other]);
    expect(result.pairs[0]?.unlike).toBe('metering');
    expect(result.pairs[0]?.differences).toEqual([]);
    const superheat = result.rows.find((r) => r.key === 'superheat');
    expect(superheat?.values.every((v) => v !== null)).toBe(true);
    const drier = result.rows.find((r) => r.key === 'drierDrop');
    expect(drier).toBeUndefined();
  });

  it('are made for every pair of three', () => {
    const result = compare([unit('A', SOUND), unit('B', SOUND), unit('C', SOUND)]);
    expect(result.pairs.map((p) => `${p.first}${p.second}`)).toEqual(['AB', 'AC', 'BC']);
  });
});

describe('a unit judged beside its like by itself', () => {
  const starved: Written = { ...SOUND, suction: 88, suctionLine: 68, liquid: 340, liquidLine: 90 };
  const weak: Written = { ...SOUND, suction: 150, suctionLine: 62, liquid: 310, supply: 63 };
  const pairs: readonly (readonly [string, Written, Written])[] = [
    ['a sound one beside a starved one', SOUND, starved],
    ['a starved one beside a sound one', starved, SOUND],
    ['a sound one beside a weak compressor', SOUND, weak],
    ['two sound ones', SOUND, SOUND],
    ['the pair of the trade', A, B],
  ];
  for (const [name, mine, theirs] of pairs) {
    it(`comes to the same as the comparison of the two: ${name}`, () => {
      const { input } = unit('A', mine);
      const other = unit('B', theirs).input;
      const twin = { label: 'B', config: other.config, content: other.content };
      const beside = judge({ ...input, twin }).diagnosis;
      const compared = compare([unit('A', mine), unit('B', theirs)]).units[0]?.diagnosis;
      expect(beside.answer).toBe(compared?.answer);
      expect(beside.nextCheck?.check).toBe(compared?.nextCheck?.check);
      for (const { key, probability } of compared?.suspects ?? []) {
        expect(probabilityOf(beside.suspects, key)).toBeCloseTo(probability, 9);
      }
    });
  }

  it('is not accused of what its like shows', () => {
    const other = unit('B', starved).input;
    const twin = { label: 'B', config: other.config, content: other.content };
    const { answer, suspects } = judge({ ...unit('A', SOUND).input, twin }).diagnosis;
    expect(answer).not.toBe('suspect');
    expect(suspects[0]?.key).toBe('nothingWrong');
  });

  it('is judged by itself where the other is no like of it', () => {
    const other = unit('B', starved, {}, { metering: 'fixed' }).input;
    const twin = { label: 'B', config: other.config, content: other.content };
    const { input } = unit('A', SOUND);
    expect(judge({ ...input, twin }).diagnosis).toEqual(judge(input).diagnosis);
  });
});
