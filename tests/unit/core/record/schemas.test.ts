import { describe, expect, it } from 'vitest';
import {
  FindingSchema,
  JobHeadSchema,
  NoteSchema,
  UnitSchema,
} from '../../../../core/record/job.ts';
import { AccuracySchema, InstantSchema, SessionSchema } from '../../../../core/record/session.ts';
import { testHead, testSession, testUnit } from '../../../support/job.ts';
import { testConfig } from '../../../support/session.ts';

const accepts = (schema: { safeParse(value: unknown): { success: boolean } }, value: unknown) =>
  schema.safeParse(value).success;

describe('what the record takes', () => {
  it('takes what the program itself writes', () => {
    expect(accepts(JobHeadSchema, testHead())).toBe(true);
    expect(accepts(UnitSchema, testUnit())).toBe(true);
    expect(accepts(SessionSchema, testSession())).toBe(true);
  });

  it.each(['2026-03-01T09:00:00Z', '2026-03-01T09:00:00.123-05:00', '2024-02-29T23:59:59+05:45'])(
    '%s is a moment',
    (text) => {
      expect(accepts(InstantSchema, text)).toBe(true);
      expect(Date.parse(text)).not.toBeNaN();
    },
  );

  it.each(['', 'yesterday', '2026-03-01', '2026-03-01T09:00:00', '2026-02-30T09:00:00Z', 0])(
    '%j is no moment: without a zone or a day in the calendar it stands nowhere',
    (text) => {
      expect(accepts(InstantSchema, text)).toBe(false);
      expect(accepts(JobHeadSchema, { ...testHead(), createdAt: text })).toBe(false);
      expect(accepts(SessionSchema, { ...testSession(), origin: text })).toBe(false);
      expect(accepts(NoteSchema, { id: 'n', text: 'x', author: '', at: text })).toBe(false);
    },
  );

  it.each([
    [{}],
    [{ ofReading: undefined }],
    [{ ofReading: 1.5 }],
    [{ absolute: -1 }],
    [{ absolute: NaN }],
    [{ ofFullScale: { fraction: 0.01, fullScale: 0 } }],
    [{ percent: 1 }],
  ])('%j is no accuracy', (accuracy) => {
    expect(accepts(AccuracySchema, accuracy)).toBe(false);
  });

  it.each([
    ['a pressure of no atmosphere', { atmosphere: { pressure: 101.325, kind: 'measured' } }],
    ['a minimum run below nought', { minimumRun: -1 }],
    ['a tolerance of nothing', { tolerances: { superheat: 0 } }],
    ['a tolerance of a figure that is not judged', { tolerances: { pressureRatio: 1 } }],
    ['a refrigerant that is not known', { refrigerant: 'R-999' }],
    ['a mark that is not known', { marks: ['perfect'] }],
    ['a gauge on no channel', { gauge: { channels: ['oilPressure'], convertedWith: 101_325 } }],
    ['an offset that is no number', { offsets: { suctionPressure: NaN } }],
    ['an assumption that is not known', { guess: 1 }],
  ])('a session is not taken with %s', (_, change) => {
    const config = { ...testConfig(), ...change };
    const units = [{ unit: 'A', config }];
    expect(accepts(SessionSchema, { ...testSession(), units })).toBe(false);
  });

  it.each([
    ['key', 'a'],
    ['refrigerant', 'water'],
    ['metering', 'hope'],
    ['mode', 'defrost'],
    ['minimumRun_s', 8000],
    ['accuracy', { oilPressure: { absolute: 1 } }],
    ['nameplate', { ...testUnit().nameplate, charge_kg: 0 }],
    ['nameplate', { ...testUnit().nameplate, targetSubcooling_K: -1 }],
  ])('a unit is not taken whose %s is %j', (field, value) => {
    expect(accepts(UnitSchema, { ...testUnit(), [field]: value })).toBe(false);
  });

  it('takes no session of no unit, nor of one twice', () => {
    const [unit] = testSession().units;
    expect(accepts(SessionSchema, { ...testSession(), units: [] })).toBe(false);
    expect(accepts(SessionSchema, { ...testSession(), units: [unit, unit] })).toBe(false);
  });

  it('takes no finding of an unknown kind and no empty note', () => {
    const by = { author: '', at: '2026-03-01T09:00:00Z' };
    const finding = { id: 'f', unit: null, text: '', ...by };
    expect(accepts(FindingSchema, { ...finding, kind: 'noise' })).toBe(true);
    expect(accepts(FindingSchema, { ...finding, kind: 'ghost' })).toBe(false);
    expect(accepts(NoteSchema, { id: 'n', text: '', ...by })).toBe(false);
  });
});
