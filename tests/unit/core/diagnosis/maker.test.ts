import { describe, expect, it } from 'vitest';
import { judge } from '../../../../core/checks/running.ts';
import { conditionsOf } from '../../../../core/diagnosis/conditions.ts';
import { expectationsFor } from '../../../../core/diagnosis/expectations.ts';
import {
  MAKERS_KEYS,
  MakersDataSchema,
  makersRow,
  makersTolerance,
} from '../../../../core/diagnosis/maker.ts';
import { pascalFromPsig } from '../../../../core/units/pressure.ts';
import {
  differenceFromFahrenheit,
  kelvinFromFahrenheit,
} from '../../../../core/units/temperature.ts';
import { inputOf, NO_PLATE } from './make.ts';

const degF = differenceFromFahrenheit;
const READ = {
  suction: 118,
  liquid: 340,
  suctionLine: 52,
  liquidLine: 95,
  outdoor: 95,
  return: 75,
};

describe('the maker’s data as typed in', () => {
  it('is empty where nothing is known, and takes every field of its table', () => {
    expect(MakersDataSchema.parse({})).toEqual({});
    for (const key of MAKERS_KEYS) {
      const { min, max } = makersRow(key);
      const value = (min + max) / 2;
      const data = { [key]: { value, u: makersTolerance(key, value) } };
      expect(MakersDataSchema.parse(data)).toEqual(data);
    }
  });

  it('says which field is wrong and why', () => {
    const issue = (data: unknown) => MakersDataSchema.safeParse(data).error?.issues[0];
    expect(issue({ superheat: { value: 600, u: 1 } })?.path).toEqual(['superheat', 'value']);
    expect(issue({ superheat: { value: 600, u: 1 } })?.message).toContain('Superheat');
    const swapped = {
      suctionPressure: { value: 2e6, u: 1e4 },
      liquidPressure: { value: 1e6, u: 1e4 },
    };
    expect(issue(swapped)?.message).toContain('Suction pressure must be below liquid');
    const wet = { at: { outdoorAir: null, returnAir: 295, returnWetBulb: 297 } };
    expect(issue(wet)?.message).toContain('wet bulb');
    expect(issue({ suctionPresure: { value: 1e6, u: 1 } })?.code).toBe('unrecognized_keys');
  });

  it('expects saturation from a pressure of the chart', () => {
    // R-410A at 118 psig: dew 40 °F (pressure-temperature charts of the trade).
    const maker = { suctionPressure: { value: pascalFromPsig(118), u: 2e4 } };
    const input = inputOf(READ, {}, { maker });
    const expected = expectationsFor(input, conditionsOf(input.content, input.config), []);
    expect(expected.evaporating?.source).toBe('maker');
    expect(expected.evaporating?.value).toBeCloseTo(kelvinFromFahrenheit(40), 0);
  });

  it('is carried from the conditions of its row, less surely the farther', () => {
    const of = (outdoorF: number) => {
      const maker = {
        condensing: { value: kelvinFromFahrenheit(100), u: degF(2) },
        at: { outdoorAir: kelvinFromFahrenheit(outdoorF), returnAir: null, returnWetBulb: null },
      };
      const input = inputOf(READ, {}, { maker });
      return expectationsFor(input, conditionsOf(input.content, input.config), []).condensing;
    };
    expect(of(95)?.value).toBeCloseTo(kelvinFromFahrenheit(100), 6);
    expect(of(85)?.value).toBeCloseTo(kelvinFromFahrenheit(109.5), 6);
    expect(of(75)?.u).toBeGreaterThan(of(85)?.u ?? Infinity);
  });

  it('is the target where it names superheat or subcooling, before the plate', () => {
    const maker = { subcooling: { value: degF(14), u: degF(2) } };
    const nameplate = { ...NO_PLATE, targetSubcooling_K: degF(10) };
    const { targets } = judge(inputOf(READ, {}, { maker, nameplate }));
    const target = targets.find((t) => t.quantity === 'subcooling');
    expect(target?.source.code).toBe('makersChart');
    expect(target?.value).toBeCloseTo(degF(14), 9);
    expect(target?.high).toBeCloseTo(degF(16), 9);
  });

  it('alone lets the charge be judged in heating, where the plate’s value for cooling does not', () => {
    const heating = { mode: 'heating' } as const;
    const written = {
      suction: 80,
      liquid: 350,
      suctionLine: 28,
      liquidLine: 95,
      outdoor: 40,
      return: 70,
    };
    const nameplate = { ...NO_PLATE, targetSubcooling_K: degF(10) };
    const plate = judge(inputOf(written, heating, { nameplate }));
    expect(plate.charge.code).toBe('REFUSED');
    expect(plate.targets).toEqual([]);
    const maker = { subcooling: { value: degF(10), u: degF(4) } };
    const chart = judge(inputOf(written, heating, { nameplate, maker }));
    expect(chart.charge.code).not.toBe('REFUSED');
  });
});
