import { describe, expect, it } from 'vitest';
import { judge } from '../../../../core/checks/running.ts';
import { cautionsFor } from '../../../../core/diagnosis/caution-text.ts';
import { checkRow } from '../../../../core/diagnosis/checks-table.ts';
import { hazardText } from '../../../../core/diagnosis/hazard-text.ts';
import { refusalText } from '../../../../core/diagnosis/words.ts';
import type { JudgementInput } from '../../../../core/diagnosis/types.ts';
import type { QuantityMotion } from '../../../../core/steadiness/types.ts';
import { inputOf, probabilityOf, snapshotOf, type Setup, type Written } from './make.ts';

/** Heat Controller R-410A heat pump manual, p. 16, table 9: 40 °F outdoors, 70 °F indoors. */
const SOUND: Written = {
  suction: 96,
  liquid: 321,
  suctionLine: 37,
  liquidLine: 86,
  outdoor: 40,
  return: 70,
  supply: 95,
};
const HEATING: Setup = { mode: 'heating' };
const heats = (
  readings: Partial<Written> = {},
  more: Partial<JudgementInput> = {},
  setup: Setup = {},
): JudgementInput =>
  inputOf({ ...SOUND, ...readings }, { ...HEATING, ...setup }, { heatPump: true, ...more });
const codes = (input: JudgementInput): string[] => judge(input).refusals.map((r) => r.code);

const motion = (key: QuantityMotion['key'], drift: number): QuantityMotion => ({
  key,
  tolerance: 0.5,
  value: 5,
  heading: null,
  headingU: null,
  drift,
  driftU: 0.3,
  inside: false,
  swing: null,
});

describe('a heat pump in heating: frost and defrost', () => {
  it('judges nothing while it cools the house, and says what that is', () => {
    const cold = heats({ supply: 62 }, {}, { state: 'moving' });
    const { refusals, charge } = judge(cold);
    expect(refusals[0]?.code).toBe('NOT_HEATING');
    expect(charge.code).toBe('REFUSED');
    const [first] = refusals;
    if (first === undefined) throw new Error('no refusal');
    expect(refusalText(first, 'us')).toMatch(/defrosting.*reversing valve.*Wait/);
    expect(codes(heats())).not.toContain('NOT_HEATING');
    // Within what both thermometers may be off by, nothing is said.
    expect(codes(heats({ supply: 69 }))).not.toContain('NOT_HEATING');
    // In cooling that is what the supply air is for.
    expect(codes(inputOf({ ...SOUND, supply: 55 }))).not.toContain('NOT_HEATING');
  });

  it('takes a coil that was seen iced for the outdoor coil: no charge, no indoor filter', () => {
    const { refusals, charge, diagnosis } = judge(heats({}, { observations: ['icedCoil'] }));
    const iced = refusals.find((r) => r.code === 'ICED_COIL');
    if (iced === undefined) throw new Error('no refusal');
    expect(refusalText(iced, 'us')).toMatch(/outdoor coil.*never chip.*defrost board/);
    expect(charge.code).toBe('REFUSED');
    const { suspects, nextCheck } = diagnosis;
    expect(suspects[0]?.key).toBe('icedCoil');
    expect(probabilityOf(suspects, 'lowIndoorAir')).toBeLessThan(0.02);
    expect(['outdoorCoil', 'defrost']).toContain(nextCheck?.check);
  });

  it('says nothing of the charge while frost grows', () => {
    const growing = [motion('suctionSaturation', -0.8), motion('airDrop', 0.9)];
    expect(codes(heats({}, { motions: growing }))).toContain('FROST_GROWS');
    expect(codes(heats({}, { motions: [motion('suctionSaturation', -0.8)] }))).not.toContain(
      'FROST_GROWS',
    );
    // Above freezing there is none.
    const mild = { suction: 118, suctionLine: 50, outdoor: 55 };
    expect(codes(heats(mild, { motions: growing }))).not.toContain('FROST_GROWS');
  });

  it('warns beside a defrost of the fan, the ice and the hot pipes', () => {
    const text = cautionsFor(checkRow('defrost').cautions).join(' ');
    expect(text).toMatch(/fan starts by itself.*slippery.*never chip ice/);
    expect(text).toMatch(/In heating so does the large line/);
    expect(checkRow('defrost').fits?.({ metering: 'txv', mode: 'cooling', heatPump: true })).toBe(
      false,
    );
  });
});

describe('a heat pump in heating: short of indoor air', () => {
  it('looks at filter and static pressure first, and names the indoor coil beside a high head', () => {
    const choked = heats({ liquid: 560, liquidLine: 122, supply: 128 });
    const { diagnosis, hazards } = judge(choked);
    expect(diagnosis.suspects[0]?.key).toBe('lowIndoorAir');
    expect(diagnosis.nextCheck?.check).toBe('filterStatic');
    const high = judge(heats({ liquid: 640, liquidLine: 130, supply: 135 })).hazards.find(
      (h) => h.code === 'HIGH_CONDENSING',
    );
    if (high === undefined) throw new Error('no hazard');
    expect(hazardText(high, 'us')).toContain('in heating the indoor filter');
    expect(hazards.every((h) => h.code !== 'COIL_FREEZING')).toBe(true);
  });
});

describe('a heat pump in heating: hot gas through the reversing valve', () => {
  // A leak of 10 % in a cycle of CoolProp at 47 °F: superheat 20 °F, all else within the rules' widths.
  const warm: Partial<Written> = {
    suction: 104,
    liquid: 350,
    suctionLine: 53,
    liquidLine: 88,
    outdoor: 47,
    discharge: 168,
    supply: 97,
  };

  it('cannot be told by superheat alone: no charge, and the two pipes of the valve come next', () => {
    const { diagnosis, charge } = judge(heats({ ...warm, suctionLine: 50 }));
    expect(diagnosis.answer).toBe('cannotTell');
    expect(diagnosis.nextCheck?.check).toBe('touchReversing');
    expect(charge.code).toBe('REFUSED');
  });

  it('is named once the valve was found to warm the gas', () => {
    const outcomes = [{ check: 'touchReversing', outcome: 'differ' }] as const;
    const { diagnosis } = judge(heats(warm, { outcomes }));
    expect(diagnosis.answer).toBe('suspect');
    expect(diagnosis.suspects[0]?.key).toBe('reversingValveLeak');
  });

  it('is named where the suction gas is warmer than the outdoor air', () => {
    const { diagnosis } = judge(heats({ ...warm, suctionLine: 62, discharge: 178 }));
    expect(diagnosis.answer).toBe('suspect');
    expect(diagnosis.suspects[0]?.key).toBe('reversingValveLeak');
  });

  it('gives way to the indoor air where the air rise says so', () => {
    const { diagnosis } = judge(heats({ ...warm, suctionLine: 50, liquid: 420, supply: 112 }));
    expect(diagnosis.nextCheck?.check).not.toBe('touchReversing');
  });
});

describe('a heat pump in heating by general rules', () => {
  it('names no fault that nothing shows', () => {
    // Subcooling of nothing is within what makes differ by at 47 °F behind an orifice.
    const { diagnosis } = judge(
      heats({ liquidLine: 99, suctionLine: 34 }, {}, { metering: 'fixed' }),
    );
    expect(diagnosis.answer).toBe('cannotTell');
  });

  // A cycle of CoolProp with two coils and one charge made for cooling, R-410A, a third of it gone.
  const SHORT: readonly (readonly [Setup['metering'] & string, Written])[] = [
    ['txv', { suction: 95.8, liquid: 289.8, suctionLine: 43.2, liquidLine: 93.5, outdoor: 40.4 }],
    ['txv', { suction: 98, liquid: 311.2, suctionLine: 45.5, liquidLine: 98.4, outdoor: 43.5 }],
    ['fixed', { suction: 91.9, liquid: 296.4, suctionLine: 52.7, liquidLine: 94.4, outdoor: 49 }],
  ];
  for (const [metering, written] of SHORT) {
    it(`names a charge that leaves no liquid before the metering (${metering}, ${written.outdoor} °F)`, () => {
      const { diagnosis, charge } = judge(heats({ ...written, supply: 92 }, {}, { metering }));
      expect(diagnosis.suspects[0]?.key).toBe('lowCharge');
      expect(diagnosis.answer).toBe('suspect');
      expect(diagnosis.nextCheck?.check).toBe('leakSearch');
      // How much is missing no general rule tells in heating.
      expect(charge.code).toBe('REFUSED');
    });
  }

  it('does not name it where the liquid stands before the valve', () => {
    for (const liquidLine of [86, 78, 72]) {
      const { suspects, answer } = judge(heats({ liquidLine })).diagnosis;
      expect(answer === 'suspect' && suspects[0]?.key === 'lowCharge').toBe(false);
    }
  });

  it('names the outdoor coil where evaporating is far below the air', () => {
    const { diagnosis } = judge(heats({ suction: 48, suctionLine: 3, liquid: 280, supply: 86 }));
    expect(['fouledOutdoorCoil', 'icedCoil']).toContain(diagnosis.suspects[0]?.key);
    expect(['outdoorCoil', 'defrost']).toContain(diagnosis.nextCheck?.check);
  });
});

describe('snapshots of heating', () => {
  it('hold the figures of heating only', () => {
    const { figures } = snapshotOf(SOUND, HEATING);
    expect(figures.condensingOverReturn).toBeDefined();
    expect(figures.condensingOverOutdoor).toBeUndefined();
  });
});
