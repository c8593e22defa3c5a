import { describe, expect, it } from 'vitest';
import { barrierText } from '../../../../core/diagnosis/barrier-text.ts';
import { judge } from '../../../../core/checks/running.ts';
import { refusalText } from '../../../../core/diagnosis/words.ts';
import type { JudgementInput } from '../../../../core/diagnosis/types.ts';
import type { Mode } from '../../../../core/circuit/types.ts';
import type { QuantityMotion } from '../../../../core/steadiness/types.ts';
import { differenceFromFahrenheit } from '../../../../core/units/temperature.ts';
import { inputOf, NO_PLATE, probabilityOf, snapshotOf, SOUND, type Setup } from './make.ts';

const plate = {
  targetSubcooling_K: differenceFromFahrenheit(10),
  targetSuperheat_K: null,
  capacity_W: 10_550,
  displacement_m3_s: null,
};
const right = (more: Partial<JudgementInput> = {}, setup: Setup = {}): JudgementInput =>
  inputOf(SOUND, setup, { nameplate: plate, ...more });
const codes = (input: JudgementInput): string[] => judge(input).refusals.map((r) => r.code);

describe('preconditions', () => {
  it('lets a settled unit with everything known be judged', () => {
    const judgement = judge(right());
    expect(judgement.refusals).toEqual([]);
    expect(judgement.charge.code).toBe('AGREES');
    expect(judgement.diagnosis.answer).toBe('nothingWrong');
  });

  it('does not call a unit healthy that has a reading outside its limits', () => {
    const content = snapshotOf({ ...SOUND, liquidLine: 104 });
    const judgement = judge(right({ content }));
    expect(judgement.verdicts.find((v) => v.quantity === 'subcooling')?.verdict).toBe('below');
    expect(judgement.diagnosis.answer).not.toBe('nothingWrong');
  });

  it('judges nothing while the state is not at rest', () => {
    for (const state of ['starting', 'moving', 'disturbed', 'idle', 'blind'] as const) {
      const judgement = judge(right({}, { state }));
      expect(judgement.verdicts).toEqual([]);
      expect(judgement.charge.code).toBe('REFUSED');
      expect(judgement.refusals.some((r) => r.blocks === 'all')).toBe(true);
      expect(judgement.virtualCharge).toBeNull();
    }
  });

  it('names what stands in the way once, also where two parts of a judgement miss it', () => {
    const content = snapshotOf(
      Object.fromEntries(Object.entries(SOUND).filter(([key]) => key !== 'outdoor')),
    );
    const input = right({ content, nameplate: NO_PLATE }, { metering: 'fixed' });
    expect(codes(input).filter((code) => code === 'OUTDOOR_UNKNOWN')).toHaveLength(1);
  });

  it('judges a hunting unit by its averages', () => {
    const judgement = judge(right({}, { state: 'hunting' }));
    expect(judgement.verdicts).toHaveLength(3);
    const p = (j: typeof judgement): number => probabilityOf(j.diagnosis.suspects, 'valveHunting');
    expect(p(judgement)).toBeGreaterThan(10 * p(judge(right())));
  });

  it('gives no charge advice over ice, whoever saw it, and looks for air first', () => {
    const byPerson = judge(right({ observations: ['icedCoil', 'dirtyFilter'] }));
    expect(byPerson.charge.code).toBe('REFUSED');
    const suspects = byPerson.diagnosis.suspects;
    const air = probabilityOf(suspects, 'lowIndoorAir') + probabilityOf(suspects, 'icedCoil');
    expect(air).toBeGreaterThan(0.8);
    expect(byPerson.diagnosis.nextCheck?.check).toBe('filterStatic');
  });

  it('sees ice growing: below freezing, superheat falling, supply air warming', () => {
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
    const cold = snapshotOf({ ...SOUND, suction: 90, suctionLine: 30 });
    const growing = [motion('superheat', -1), motion('airDrop', -1)];
    expect(codes(right({ content: cold, motions: growing }))).toContain('ICED_COIL');
    expect(codes(right({ content: cold, motions: [motion('superheat', -1)] }))).not.toContain(
      'ICED_COIL',
    );
    expect(codes(right({ motions: growing }))).not.toContain('ICED_COIL');
  });

  it('names the stale channel', () => {
    const input = right({}, { stale: ['liquidPressure'] });
    const refusal = judge(input).refusals.find((r) => r.code === 'STALE');
    expect(refusal).toBeDefined();
    if (refusal !== undefined) expect(refusalText(refusal, 'us')).toContain('Liquid pressure');
  });

  it('asks for the 15 minutes of the procedure', () => {
    expect(codes(right({ runTime: 14 * 60 }))).toEqual(['RUN_TOO_SHORT']);
    const short = { code: 'RUN_TOO_SHORT', blocks: 'charge', runTime: 880, asked: 900 } as const;
    expect(refusalText(short, 'us')).toMatch(/^It has run for 14 minutes; .* 15 minutes before/);
    expect(codes(right({ runTime: 15 * 60 }))).toEqual([]);
    expect(codes(right({ runTime: null }))).toEqual([]);
  });

  it('tells nobody to let a unit run on that is not to be left running', () => {
    // 90 psig boils near 26 °F: the coil ices.
    const cold = snapshotOf({ ...SOUND, suction: 90, suctionLine: 38 });
    const { refusals, hazards } = judge(right({ content: cold, runTime: 12 * 60 }));
    expect(hazards.map((hazard) => hazard.code)).toContain('COIL_FREEZING');
    const last = refusals.filter((refusal) => refusal.blocks === 'charge').at(-1);
    expect(last?.code).toBe('NOT_TO_RUN_ON');
    for (const refusal of refusals)
      expect(refusalText(refusal, 'us')).not.toContain('Let it run on');
    expect(barrierText(refusals, 'charge')).not.toContain('Let it run on');
  });

  it('refuses below 55 °F outdoors and below 70 °F of return air', () => {
    expect(codes(right({ content: snapshotOf({ ...SOUND, outdoor: 54 }) }))).toContain(
      'OUTDOOR_TOO_COLD',
    );
    expect(codes(right({ content: snapshotOf({ ...SOUND, return: 69 }) }))).toContain(
      'RETURN_TOO_COLD',
    );
  });

  it('names the temperature split where it tells the airflow: in cooling', () => {
    const said = (mode: 'cooling' | 'heating'): string =>
      refusalText({ blocks: 'charge', code: 'AIRFLOW_UNKNOWN', mode }, 'us');
    expect(said('cooling')).toMatch(/the temperature split/);
    expect(said('heating')).not.toMatch(/split|cooling/);
  });

  it('tells the least airflow in the units of the reader', () => {
    const flow = { value: 0.3, u: 0.01 };
    const refusal = { blocks: 'charge', code: 'AIRFLOW_MEASURED_LOW', flow, floor: 0.425 } as const;
    // 300 cfm a ton are 0.14158 m3/s on 3.5169 kW.
    expect(refusalText(refusal, 'us')).toMatch(/below 901 cfm, .*\(300 cfm a ton\)/);
    expect(refusalText(refusal, 'si')).toMatch(/below 0\.425 m³\/s, .*\(0\.040 m³\/s a kW\)/);
  });

  it('takes airflow from a person, a measurement or the split, and refuses without', () => {
    const entries = Object.entries(SOUND).filter(([key]) => key !== 'wetBulb');
    const content = snapshotOf(Object.fromEntries(entries));
    expect(codes(right({ content, airflow: { kind: 'unknown' } }))).toContain('AIRFLOW_UNKNOWN');
    expect(codes(right({ content }))).not.toContain('AIRFLOW_UNKNOWN');
    // The split is a matter of cooling: in heating it is no way out.
    const words = (mode: Mode): string =>
      refusalText({ blocks: 'charge', code: 'AIRFLOW_UNKNOWN', mode }, 'us');
    expect(words('cooling')).toContain('temperature split');
    expect(words('heating')).not.toMatch(/split|cooling/);
    expect(codes(right({ airflow: { kind: 'unknown' } }))).toEqual([]);
    // 10.55 kW are three tons: 900 cfm (0.425 m3/s) is the least.
    const measured = (value: number) =>
      codes(right({ airflow: { kind: 'measured', flow: { value, u: 0.01 } } }));
    expect(measured(0.42)).toContain('AIRFLOW_MEASURED_LOW');
    expect(measured(0.43)).toEqual([]);
  });

  it('believes a split that is far too high rather than the airflow it was told', () => {
    const content = snapshotOf({ ...SOUND, supply: 40 });
    for (const airflow of [
      { kind: 'measured', flow: { value: 0.5, u: 0.01 } },
      { kind: 'attested' },
    ] as const) {
      expect(codes(right({ content, airflow }))).toEqual(['AIRFLOW_LOW']);
    }
  });

  it('has a coil below freezing looked at before the charge', () => {
    const content = snapshotOf({ ...SOUND, suction: 88, suctionLine: 36 });
    expect(codes(right({ content, airflow: { kind: 'unknown' } }))).toContain(
      'COIL_BELOW_FREEZING',
    );
    expect(codes(right({ content }))).not.toContain('COIL_BELOW_FREEZING');
    expect(codes(right({ airflow: { kind: 'unknown' } }))).toEqual([]);
  });

  it('takes too high a split for low airflow even where a person attested it', () => {
    const content = snapshotOf({ ...SOUND, supply: 48 });
    expect(codes(right({ content }))).toContain('AIRFLOW_LOW');
  });

  it('gives no advice with superheat and subcooling both at or below zero', () => {
    const content = snapshotOf({ ...SOUND, suctionLine: 41, liquidLine: 110.5 });
    expect(codes(right({ content }))).toContain('BOTH_AT_ZERO');
  });

  it('leaves the charge in heating to the maker', () => {
    const judgement = judge(right({}, { mode: 'heating' }));
    expect(judgement.refusals.map((r) => r.code)).toContain('HEATING_BY_MAKER_ONLY');
    expect(judgement.targets).toEqual([]);
  });

  it('refuses the dashes and the outside of the chart, and says what to do', () => {
    const fixed = { metering: 'fixed' } as const;
    const dry = inputOf({ ...SOUND, outdoor: 95, wetBulb: 60 }, fixed);
    const refusal = judge(dry).refusals.find((r) => r.code === 'TABLE');
    expect(refusal).toMatchObject({ why: { code: 'IN_THE_DASHES' }, blocks: 'superheatTarget' });
    if (refusal !== undefined) expect(refusalText(refusal, 'us')).toContain('another day');
    expect(judge(dry).charge.code).toBe('REFUSED');
    const hot = inputOf({ ...SOUND, outdoor: 120 }, fixed);
    const outside = judge(hot).refusals.find((r) => r.code === 'TABLE');
    expect(outside && refusalText(outside, 'us')).toContain(
      'The outdoor air of 120.0 °F is outside the superheat chart (40.0 °F to 115.0 °F)',
    );
    expect(outside && refusalText(outside, 'si')).toContain(
      'The outdoor air of 48.9 °C is outside the superheat chart (4.4 °C to 46.1 °C)',
    );
  });

  it('asks for the nameplate where a valve has no subcooling target', () => {
    expect(codes(inputOf(SOUND))).toContain('NO_SUBCOOLING_TARGET');
  });
});
