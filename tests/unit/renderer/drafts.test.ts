import { describe, expect, it } from 'vitest';
import type { Unit } from '../../../core/record/job.ts';
import { accuracyOf, accuracyDraft } from '../../../renderer/job/accuracy-draft.ts';
import { EMPTY_HEAD, headOfDraft } from '../../../renderer/job/head-draft.ts';
import { UNIT_SYSTEMS } from '../../../core/units/systems.ts';
import { newUnit } from '../../../core/record/job.ts';
import { unitDraft, unitOfDraft } from '../../../renderer/job/unit-draft.ts';
import { assumed, assumptionDraft } from '../../../renderer/review/assumptions.ts';
import { againstTarget, targetLabel } from '../../../renderer/watch/against.ts';

const FULL: Unit = {
  ...newUnit('B2'),
  name: 'South',
  nameplate: {
    outdoorModel: 'O',
    outdoorSerial: '1',
    indoorModel: 'I',
    indoorSerial: '2',
    charge_kg: 3.2,
    capacity_W: 10_550.56,
    targetSubcooling_K: 5,
    targetSuperheat_K: null,
    displacement_m3_s: 0.0016,
  },
  maker: {
    suctionPressure: { value: 9.6e5, u: 34_473.785 },
    superheat: { value: 6, u: 1.5 },
    at: { outdoorAir: 308.15, returnAir: null, returnWetBulb: 292.6 },
  },
  accuracy: {
    suctionPressure: { ofFullScale: { fraction: 0.01, fullScale: 5.516e6 } },
    suctionLineTemp: { absolute: 0.5 },
    liquidPressure: { ofReading: 0.005, absolute: 1000 },
    vacuum: { ofReading: 0.1 },
  },
  minimumRun_s: 900,
};

describe('the unit form', () => {
  it.each(UNIT_SYSTEMS)('gives back the unit it was opened with (%s)', (system) => {
    const read = unitOfDraft(unitDraft(FULL, system), FULL, system);
    if (!('unit' in read)) throw new Error(JSON.stringify(read.errors));
    expect(read.unit.nameplate.charge_kg).toBeCloseTo(3.2, 3);
    expect(read.unit.nameplate.capacity_W).toBeCloseTo(10_550.56, 0);
    expect(read.unit.nameplate.targetSubcooling_K).toBeCloseTo(5, 2);
    expect(read.unit.nameplate.targetSuperheat_K).toBeNull();
    expect(read.unit.minimumRun_s).toBe(900);
    expect((read.unit.nameplate.displacement_m3_s ?? 0) / 0.0016).toBeCloseTo(1, 3);
    expect((read.unit.maker.suctionPressure?.value ?? 0) / 9.6e5).toBeCloseTo(1, 3);
    expect(read.unit.maker.suctionPressure?.u).toBeCloseTo(34_473.785, 0);
    expect(read.unit.maker.superheat?.value).toBeCloseTo(6, 1);
    expect(read.unit.maker.superheat?.u).toBeCloseTo(1.5, 1);
    expect(read.unit.maker.at?.outdoorAir).toBeCloseTo(308.15, 1);
    expect(read.unit.maker.at?.returnAir).toBeNull();
    expect(read.unit.accuracy.suctionPressure?.ofFullScale?.fraction).toBeCloseTo(0.01, 6);
    expect((read.unit.accuracy.suctionPressure?.ofFullScale?.fullScale ?? 0) / 5.516e6).toBeCloseTo(
      1,
      3,
    );
    expect(read.unit.accuracy.suctionLineTemp?.absolute).toBeCloseTo(0.5, 3);
    // What the form does not show in parts is kept as it is.
    expect(read.unit.accuracy.liquidPressure).toEqual(FULL.accuracy.liquidPressure);
    expect(read.unit.accuracy.vacuum).toEqual(FULL.accuracy.vacuum);
  });

  it('names the field that is wrong, in the words of what was typed', () => {
    const draft = { ...unitDraft(FULL, 'us'), key: 'lower', charge: '-1', minimumRun: '' };
    const read = unitOfDraft(draft, FULL, 'us');
    if (!('errors' in read)) throw new Error('a wrong unit was taken');
    expect(Object.keys(read.errors).sort()).toEqual(['charge', 'key', 'minimumRun']);
    expect(read.errors['charge']).toContain('220 lb');
  });

  it('takes the maker’s chart as printed, with its own tolerance or the usual one', () => {
    const empty = unitDraft(newUnit('A'), 'us');
    const rows = {
      ...empty.maker.rows,
      suctionPressure: { value: '118', tolerance: '' },
      subcooling: { value: '10', tolerance: '2' },
    };
    const draft = { ...empty, maker: { rows, at: { ...empty.maker.at, outdoorAir: '95' } } };
    const read = unitOfDraft(draft, newUnit('A'), 'us');
    if (!('unit' in read)) throw new Error(JSON.stringify(read.errors));
    const { maker } = read.unit;
    // 118 psig on paper is 132.7 psia, wherever the unit stands.
    expect((maker.suctionPressure?.value ?? 0) / 6894.757).toBeCloseTo(132.696, 2);
    expect((maker.suctionPressure?.u ?? 0) / 6894.757).toBeCloseTo(5, 3);
    expect(maker.subcooling?.value).toBeCloseTo(10 / 1.8, 6);
    expect(maker.subcooling?.u).toBeCloseTo(2 / 1.8, 6);
    expect(maker.at?.outdoorAir).toBeCloseTo(308.15, 2);
    expect(maker.superheat).toBeUndefined();
  });

  it('names the field of the maker’s chart that cannot be', () => {
    const empty = unitDraft(newUnit('A'), 'us');
    const errorsOf = (value: string, tolerance: string, at = ''): string[] => {
      const rows = {
        ...empty.maker.rows,
        suctionPressure: { value, tolerance },
        liquidPressure: { value: '300', tolerance: '' },
      };
      const draft = { ...empty, maker: { rows, at: { ...empty.maker.at, outdoorAir: at } } };
      const read = unitOfDraft(draft, newUnit('A'), 'us');
      return 'errors' in read ? Object.keys(read.errors) : [];
    };
    expect(errorsOf('118', '5', '95')).toEqual([]);
    expect(errorsOf('low', '')).toEqual(['maker.suctionPressure']);
    expect(errorsOf('', '5')).toEqual(['maker.suctionPressure']);
    expect(errorsOf('118', '-5')).toEqual(['maker.suctionPressure']);
    expect(errorsOf('310', '')).toEqual(['maker.suctionPressure']);
    expect(errorsOf('118', '', 'hot')).toEqual(['maker.at.outdoorAir']);
    expect(errorsOf('118', '', '950')).toEqual(['maker.at.outdoorAir']);
  });

  it('takes a decimal comma and refuses words', () => {
    const comma = unitOfDraft({ ...unitDraft(FULL, 'si'), charge: '3,5' }, FULL, 'si');
    expect('unit' in comma && comma.unit.nameplate.charge_kg).toBe(3.5);
    expect('errors' in unitOfDraft({ ...unitDraft(FULL, 'si'), charge: 'much' }, FULL, 'si')).toBe(
      true,
    );
  });
});

describe('the accuracy of a sensor', () => {
  it('needs a full scale for a share of it', () => {
    const draft = { kind: 'ofFullScale', amount: '1', fullScale: '', kept: null } as const;
    expect(accuracyOf('suctionPressure', draft, 'us')).toHaveProperty('error');
    const read = accuracyOf('suctionPressure', { ...draft, fullScale: '800' }, 'us');
    expect(read).toHaveProperty(
      'accuracy.ofFullScale.fullScale',
      expect.closeTo(800 * 6894.757, 0),
    );
  });

  it('of a temperature is a difference, not a temperature', () => {
    const draft = {
      ...accuracyDraft('suctionLineTemp', undefined, 'us'),
      kind: 'absolute',
      amount: '1.8',
    } as const;
    expect(accuracyOf('suctionLineTemp', draft, 'us')).toHaveProperty(
      'accuracy.absolute',
      expect.closeTo(1, 9),
    );
  });
});

describe('the head of a job', () => {
  it('turns feet into metres and keeps an empty altitude unknown', () => {
    const read = headOfDraft({ ...EMPTY_HEAD, title: ' Call ', altitude: '1000' }, 'us');
    expect(read).toHaveProperty('head.site.altitude_m', expect.closeTo(304.8, 9));
    expect(read).toHaveProperty('head.title', 'Call');
    expect(headOfDraft({ ...EMPTY_HEAD, title: 'x' }, 'us')).toHaveProperty(
      'head.site.altitude_m',
      null,
    );
  });

  it('refuses an altitude out of range beside its field', () => {
    const read = headOfDraft({ ...EMPTY_HEAD, title: 'x', altitude: '99999' }, 'si');
    expect('errors' in read && Object.keys(read.errors)).toEqual(['altitude']);
  });
});

describe('other assumptions', () => {
  const recorded = {
    refrigerant: 'R-410A',
    metering: 'txv',
    mode: 'cooling',
    atmosphere: { pressure: 101_325, kind: 'assumed' },
    gauge: { channels: [], convertedWith: 101_325 },
    accuracy: {},
    offsets: { suctionPressure: 1000 },
    minimumRun: 600,
    tolerances: {},
    marks: [],
  } as const;

  it('are those recorded until something is typed', () => {
    expect(assumed(assumptionDraft(recorded), recorded, 'us')).toEqual({ config: recorded });
  });

  it('add a correction in the unit of the channel to the one recorded', () => {
    const draft = {
      ...assumptionDraft(recorded),
      offsets: { suctionPressure: '2', liquidLineTemp: '-1,8' },
    };
    const read = assumed(draft, recorded, 'us');
    expect(read).toHaveProperty(
      'config.offsets.suctionPressure',
      expect.closeTo(1000 + 2 * 6894.757, 1),
    );
    expect(read).toHaveProperty('config.offsets.liquidLineTemp', expect.closeTo(-1, 9));
  });

  it('refuse what is no number and an altitude out of range', () => {
    const draft = {
      ...assumptionDraft(recorded),
      altitude: '50000',
      offsets: { suctionPressure: 'x' },
    };
    const read = assumed(draft, recorded, 'si');
    expect('errors' in read && Object.keys(read.errors).sort()).toEqual([
      'altitude',
      'suctionPressure',
    ]);
  });
});

describe('a reading against its target', () => {
  const reading = (value: number) => ({ value, u: 2 });
  const five = { value: 5, low: 2, high: 8 };
  const range = { value: null, low: 4, high: 25 / 1.8 };

  it('is not called off while its ± covers the target', () => {
    expect(againstTarget(reading(6.5), five, 'si')).toBe('1.5 K above, within its ±');
    expect(againstTarget(reading(7.5), five, 'si')).toBe('2.5 K above target');
    expect(againstTarget(reading(1), five, 'us')).toBe('7.2 °F below target');
  });

  it('stands inside or outside a range where no value is named', () => {
    expect(targetLabel(range, 'us')).toBe('range 7 to 25 °F');
    expect(targetLabel(five, 'si')).toBe('target 5.0 K');
    expect(againstTarget(reading(10), range, 'si')).toBe('inside the range');
    expect(againstTarget(reading(3), range, 'si')).toBe('1.0 K below the range, within its ±');
    expect(againstTarget(reading(0), range, 'si')).toBe('4.0 K below the range');
  });
});
