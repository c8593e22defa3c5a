import { describe, expect, it } from 'vitest';
import { conditionsOf } from '../../../../core/diagnosis/conditions.ts';
import { evidenceText } from '../../../../core/diagnosis/evidence-text.ts';
import { featuresOf } from '../../../../core/diagnosis/features.ts';
import { contradictions } from '../../../../core/diagnosis/impossible.ts';
import type { Mode } from '../../../../core/circuit/types.ts';
import { judge } from '../../../../core/checks/running.ts';
import { differenceFromFahrenheit } from '../../../../core/units/temperature.ts';
import { inputOf, NO_PLATE, probabilityOf, type Setup, type Written } from './make.ts';

const SOUND: Written = {
  suction: 122,
  liquid: 365,
  suctionLine: 52,
  liquidLine: 99.5,
  discharge: 165,
  drierIn: 99.5,
  drierOut: 99.3,
  outdoor: 90,
  return: 75,
  wetBulb: 63,
  supply: 56,
};
const found = (written: Written, setup: Setup = {}) => {
  const { content, config } = inputOf({ ...SOUND, ...written }, setup);
  const conditions = conditionsOf(content, config);
  return contradictions(featuresOf(content, config), conditions, content, config).map(
    (c) => c.what,
  );
};

describe('readings that contradict each other', () => {
  it('are none in a sound unit', () => {
    expect(found({})).toEqual([]);
  });

  const cases: readonly (readonly [string, Written])[] = [
    ['liquidBelowOutdoor', { liquidLine: 84 }],
    ['suctionAboveAir', { suctionLine: 95 }],
    ['dischargeBelowCondensing', { discharge: 100 }],
    ['drierReversed', { drierOut: 104 }],
    ['supplyAboveReturn', { supply: 79 }],
    ['supplyBelowEvaporating', { supply: 35 }],
    ['liquidAboveCondensing', { liquidLine: 117 }],
    ['suctionBelowEvaporating', { suctionLine: 36 }],
    ['condensingBelowAir', { outdoor: 120, liquidLine: 120 }],
  ];
  for (const [what, written] of cases) {
    it(`say ${what}`, () => {
      expect(found(written)).toContain(what);
    });
  }

  describe('of two clamps on each other’s line', () => {
    const swapped: Written = { suctionLine: 99.5, liquidLine: 52 };

    it('are told as that, and as nothing else', () => {
      expect(found({ suctionLine: 99.5, liquidLine: 52 })).toEqual(['linesSwapped']);
    });

    it('come before a restriction, whose liquid is cold as well', () => {
      const { suspects } = judge(inputOf({ ...SOUND, ...swapped })).diagnosis;
      expect(suspects[0]?.key).toBe('sensorFault');
    });

    it('are not claimed of a starved coil behind a throttled liquid line', () => {
      const throttled: Written = { suction: 70, suctionLine: 80, liquidLine: 60 };
      expect(found(throttled)).toEqual(['liquidBelowOutdoor']);
    });
  });

  describe('of two hoses on each other’s valve', () => {
    const swapped: Written = { suction: 365, liquid: 122 };

    it('are told as that, and as nothing else', () => {
      expect(found(swapped)).toEqual(['hosesSwapped']);
    });

    it('speak of the wide line in heating alone, where it carries hot gas', () => {
      const words = (mode: Mode): string =>
        evidenceText({ kind: 'impossible', what: 'hosesSwapped', by: 20 }, mode, 'us');
      expect(words('cooling')).toMatch(/probably exchanged$/);
      expect(words('heating')).toContain('or the low-side gauge is on the wide line');
      expect(words('cooling')).not.toContain('heating');
    });

    it('leave the instrument as the first suspect, in both modes', () => {
      const warm: Written = { outdoor: 45, return: 70, wetBulb: 55, supply: 95 };
      for (const [mode, air] of [
        ['cooling', {}],
        ['heating', warm],
      ] as const) {
        const input = inputOf({ ...SOUND, ...air, ...swapped }, { mode });
        const { suspects } = judge(input).diagnosis;
        expect(suspects[0]?.key).toBe('sensorFault');
        expect(suspects[0]?.probability).toBeGreaterThan(0.8);
      }
    });
  });

  describe('of a sound unit that holds another refrigerant than is believed', () => {
    // Sound pressures at 45 and 115 °F by the saturation tables of the trade (from memory).
    const r22: Written = { suction: 76, liquid: 243, suctionLine: 56, liquidLine: 105 };
    const r410a: Written = { suction: 130, liquid: 391, suctionLine: 56, liquidLine: 105 };
    const cases = [
      ['R-410A', r22],
      ['R-22', r410a],
    ] as const;
    for (const [believed, written] of cases) {
      it(`leave no fault of the charge (${believed} believed)`, () => {
        const air: Written = { outdoor: 95, return: 75, wetBulb: 63, supply: 56 };
        const input = inputOf({ ...written, ...air }, { refrigerant: believed });
        const { suspects } = judge(input).diagnosis;
        const first = suspects.slice(0, 2).map((s) => s.key);
        expect([...first].sort()).toEqual(['sensorFault', 'wrongRefrigerant']);
        for (const key of ['lowCharge', 'overcharge', 'nothingWrong'] as const) {
          expect(probabilityOf(suspects, key)).toBeLessThan(0.02);
        }
      });
    }
  });

  it('are not claimed within the uncertainty of usual instruments', () => {
    expect(found({ liquidLine: 88.5, supply: 75.5 }, { good: false })).toEqual([]);
  });

  it('raise the instrument, and a restriction where liquid is colder than the air', () => {
    const nameplate = { ...NO_PLATE, targetSubcooling_K: differenceFromFahrenheit(10) };
    const of = (written: Written) =>
      judge(inputOf({ ...SOUND, ...written }, {}, { nameplate })).diagnosis.suspects;
    const swapped = of({ supply: 79 });
    expect(probabilityOf(swapped, 'sensorFault')).toBeGreaterThan(
      3 * probabilityOf(of({}), 'sensorFault'),
    );
    const cold = of({ liquidLine: 84, drierIn: 97, drierOut: 85 });
    expect(cold[0]?.key).toBe('liquidLineRestriction');
  });
});

describe('a coil below freezing', () => {
  const iced = (suction: number, suctionLine: number): number =>
    probabilityOf(
      judge(inputOf({ ...SOUND, suction, suctionLine, supply: 45 })).diagnosis.suspects,
      'icedCoil',
    );
  it('may be iced, one surely above is not', () => {
    expect(iced(85, 33)).toBeGreaterThan(0.1);
    expect(iced(122, 52)).toBeLessThan(0.01);
  });
});
