import { describe, expect, it } from 'vitest';
import { judge } from '../../../../core/checks/running.ts';
import { answerText } from '../../../../core/diagnosis/answer-text.ts';
import { differenceFromFahrenheit } from '../../../../core/units/temperature.ts';
import type { JudgementInput } from '../../../../core/diagnosis/types.ts';
import {
  configOf,
  inputOf,
  NO_PLATE,
  probabilityOf,
  snapshotOf,
  type Setup,
  type Written,
  SOUND,
} from './make.ts';

const nameplate = { ...NO_PLATE, targetSubcooling_K: differenceFromFahrenheit(10) };
const FEW: readonly (keyof Written)[] = ['suction', 'liquid', 'suctionLine', 'liquidLine'];
const of = (written: Written, more: Partial<JudgementInput> = {}, setup: Setup = {}) =>
  judge(inputOf({ ...SOUND, ...written }, setup, { nameplate, ...more }));

describe('a valve whose superheat is far up while the subcooling is right', () => {
  // Common practice, no source: 8 to 12 °F at the coil, up to some 17 °F with the suction line.
  for (const good of [true, false]) {
    for (const suctionLine of [60.5, 61.5, 63, 66]) {
      const superheat = (suctionLine - 41.4).toFixed(0);
      it(`is not called sound at ${superheat} °F (${good ? 'good' : 'usual'} instruments)`, () => {
        const { diagnosis } = of({ suctionLine }, {}, { good });
        expect(diagnosis.answer).not.toBe('nothingWrong');
        expect(['drierDrop', 'bulbCheck', 'sensorCheck']).toContain(diagnosis.nextCheck?.check);
      });
    }
  }

  it('is not called sound with pressures and pipe clamps alone either', () => {
    const known = { ...SOUND, suctionLine: 61.5 };
    const few: Written = Object.fromEntries(
      Object.entries(known).filter(([key]) => (FEW as readonly string[]).includes(key)),
    );
    for (const good of [true, false]) {
      expect(judge(inputOf(few, { good }, { nameplate })).diagnosis.answer).not.toBe(
        'nothingWrong',
      );
    }
  });

  it('is said to be odd in its superheat, where most of it fits a sound unit', () => {
    const { diagnosis, refusals } = of({ suctionLine: 61.5 });
    expect(diagnosis.answer).toBe('cannotTell');
    expect(answerText(diagnosis, refusals, 'cooling').line).toContain('Superheat');
  });

  it('names what starves the coil where evaporating is low too', () => {
    // Without a receiver the liquid stays in the condenser: subcooling normal to high.
    for (const liquidLine of [96.5, 92]) {
      const { suspects, answer } = of({
        suction: 100,
        suctionLine: 56,
        liquid: 350,
        liquidLine,
      }).diagnosis;
      expect(answer).not.toBe('nothingWrong');
      const starved =
        probabilityOf(suspects, 'liquidLineRestriction') + probabilityOf(suspects, 'valveStarved');
      expect(starved).toBeGreaterThan(probabilityOf(suspects, 'nothingWrong'));
      expect(starved).toBeGreaterThan(probabilityOf(suspects, 'lowCharge'));
    }
  });

  it('stays sound where the superheat is usual', () => {
    for (const suctionLine of [48, 52, 55]) {
      expect(of({ suctionLine }).diagnosis.answer).toBe('nothingWrong');
    }
  });
});

describe('a condenser beyond what sound units stand over the air', () => {
  // Makers print 14 to 21 °F over the outdoor air; old units to 28 °F.
  it('is not called sound, and the outdoor coil is looked at', () => {
    for (const [liquid, liquidLine] of [
      [418, 109.5],
      [435, 112],
      [435, 108],
    ] as const) {
      const { diagnosis } = of({ liquid, liquidLine });
      expect(diagnosis.answer).not.toBe('nothingWrong');
      expect(diagnosis.nextCheck?.check).toBe('outdoorCoil');
    }
  });
});

describe('a compressor that pumps less, a reversing valve that leaks', () => {
  // A cycle of CoolProp with two coils and one charge, R-410A behind a valve: three tenths of the flow
  // pass back inside the machine. Suction high, head low, superheat and subcooling held.
  const LEAKS: readonly Written[] = [
    { suction: 155.8, liquid: 381.1, suctionLine: 65.2, liquidLine: 106.6, outdoor: 100.7 },
    { suction: 151.7, liquid: 363.1, suctionLine: 65.4, liquidLine: 103.2, outdoor: 98.8 },
    { suction: 157.4, liquid: 345.2, suctionLine: 65, liquidLine: 100.1, outdoor: 92.7 },
  ].map((readings) => ({ ...readings, return: 75 }));
  const plate = { ...NO_PLATE, targetSubcooling_K: differenceFromFahrenheit(8.7) };
  for (const heatPump of [true, false]) {
    for (const written of LEAKS) {
      it(`is not called sound by pressures and pipes (${heatPump ? 'heat pump' : 'cooling only'}, ${written.outdoor} °F)`, () => {
        for (const good of [true, false]) {
          const { diagnosis } = judge(inputOf(written, { good }, { nameplate: plate, heatPump }));
          expect(diagnosis.answer).not.toBe('nothingWrong');
        }
      });
    }
  }

  it('is looked for by the amperes or across the valve', () => {
    for (const written of LEAKS) {
      const { nextCheck, fits } = judge(
        inputOf(written, {}, { nameplate: plate, heatPump: true }),
      ).diagnosis;
      expect(['amperes', 'touchReversing']).toContain(nextCheck?.check);
      expect(['compressorValveLeak', 'reversingValveLeak']).toContain(fits);
    }
  });
});

describe('an orifice short of refrigerant, and one with an obstacle before it', () => {
  // A cycle of CoolProp, R-410A behind an orifice: short by a quarter, and with a restricted drier.
  const at = (written: Written) =>
    judge(inputOf(written, { metering: 'fixed', good: false })).diagnosis;

  it('are told apart by the subcooling', () => {
    const drained = at({
      suction: 99,
      liquid: 323,
      suctionLine: 67,
      liquidLine: 100,
      outdoor: 90,
      return: 75,
    });
    expect(drained.suspects[0]?.key).toBe('lowCharge');
    const THROTTLED: readonly Written[] = [
      { suction: 108.8, liquid: 363.6, suctionLine: 77.8, liquidLine: 97.7, outdoor: 95.2 },
      { suction: 91.1, liquid: 341.5, suctionLine: 76.3, liquidLine: 93.7, outdoor: 92.6 },
    ];
    for (const written of THROTTLED) {
      const { suspects, nextCheck } = at({ ...written, return: 76 });
      expect(suspects[0]?.key).toBe('liquidLineRestriction');
      // Liquid that is subcooled as it should be is no sign of a short charge.
      const short = probabilityOf(suspects, 'lowCharge');
      expect(probabilityOf(suspects, 'liquidLineRestriction')).toBeGreaterThan(1.5 * short);
      expect(nextCheck?.check).toBe('drierDrop');
    }
  });

  it('leave the charge alone in heating while the suction is wet', () => {
    const wet: Written = { suction: 76, liquid: 280, suctionLine: 26, liquidLine: 90, outdoor: 32 };
    const { suspects } = judge(
      inputOf({ ...wet, return: 70 }, { metering: 'fixed', mode: 'heating' }, { heatPump: true }),
    ).diagnosis;
    expect(probabilityOf(suspects, 'lowCharge')).toBeLessThan(0.15);
  });
});

describe('an orifice unit whose superheat and air are right by the chart', () => {
  const written = { suction: 74.4, liquid: 203.3, suctionLine: 56, outdoor: 88.5, return: 77.9 };
  const answer = (liquidLine: number): string =>
    judge(
      inputOf(
        { ...written, wetBulb: 65.2, supply: 59.5, liquidLine },
        { refrigerant: 'R-22', metering: 'fixed', good: false },
      ),
    ).diagnosis.answer;

  it('is called sound with 10 °F of subcooling', () => {
    expect(answer(93)).toBe('nothingWrong');
  });

  it('is not where the liquid before the metering may hold bubbles', () => {
    expect(answer(100)).toBe('cannotTell');
  });
});

describe('a unit whose outdoor air nobody measured', () => {
  // The same pressures and pipes are those of a sound unit on a warm day and of a fouled coil on a mild one.
  const unseen: Written = Object.fromEntries(
    Object.entries(SOUND).filter(([key]) => key !== 'outdoor'),
  );
  const blind = (more: Partial<JudgementInput> = {}) =>
    judge(inputOf(unseen, {}, { nameplate, ...more }));

  it('is not called sound, and is asked for that air', () => {
    const { diagnosis, refusals } = blind();
    expect(diagnosis.suspects[0]?.key).toBe('nothingWrong');
    expect(diagnosis.answer).toBe('cannotTell');
    expect(answerText(diagnosis, refusals, 'cooling').line).toMatch(/outdoor air is not measured/);
  });

  it('may be where its own healthy visit is known', () => {
    const baseline = { label: 'May', config: configOf({}), content: snapshotOf(unseen) };
    expect(blind({ baseline }).diagnosis.answer).toBe('nothingWrong');
  });
});

describe('a unit that reads as sound in a house warmer than the published tables go', () => {
  // The table of RA3.2 ends at 84 °F.
  const warm = { suction: 130, suctionLine: 56.5, return: 84.5, wetBulb: 68, supply: 65 };

  it('is not called sound, and the sentence says why', () => {
    const { diagnosis, refusals } = of(warm);
    expect(diagnosis).toMatchObject({ answer: 'cannotTell', open: { code: 'WARM_RETURN' } });
    expect(diagnosis.suspects[0]?.key).toBe('nothingWrong');
    expect(answerText(diagnosis, refusals, 'cooling').line).toContain('warmer than');
  });

  it('is called sound half a degree inside the table', () => {
    const { diagnosis } = of({ ...warm, return: 83.5 });
    expect(diagnosis).toMatchObject({ answer: 'nothingWrong', open: null });
  });

  it('may be called so beside its like', () => {
    const like = {
      label: 'its twin',
      config: configOf({}),
      content: snapshotOf({ ...SOUND, ...warm }),
    };
    expect(of(warm, { twin: like }).diagnosis.open?.code).not.toBe('WARM_RETURN');
  });
});
