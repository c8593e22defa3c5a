import { describe, expect, it } from 'vitest';
import { compare } from '../../../../core/checks/compare.ts';
import { judge } from '../../../../core/checks/running.ts';
import { comparisonText } from '../../../../core/diagnosis/compare-text.ts';
import type { JudgementInput } from '../../../../core/diagnosis/types.ts';
import type { Reason, SteadinessState } from '../../../../core/steadiness/types.ts';
import { inputOf } from './make.ts';

// Readings that would name a low charge at once, were they at rest.
const LOW = { suction: 90, liquid: 290, suctionLine: 62, liquidLine: 95, outdoor: 90, return: 75 };
const of = (state: SteadinessState, more: Partial<JudgementInput> = {}) =>
  judge(inputOf(LOW, { state }, more));

describe('a session that may not be read', () => {
  for (const state of ['idle', 'blind', 'starting', 'moving', 'disturbed'] as const) {
    it(`names no cause and no check while ${state}`, () => {
      const { diagnosis, refusals } = of(state);
      expect(refusals.some((r) => r.blocks === 'all')).toBe(true);
      expect(diagnosis).toEqual({
        answer: 'cannotTell',
        suspects: [],
        nextCheck: null,
        fits: null,
        open: null,
        checks: [],
      });
    });
  }

  it('reads no figure of a swing whose mean is not at rest, but names the swing', () => {
    const swing = { quantity: 'superheat', amplitude: 4, period: 70 } as const;
    const adrift = { quantity: 'superheat', drift: 2, driftU: 1, horizon: 300 } as const;
    const at = (reason: Reason) => {
      const input = inputOf(LOW, { state: 'hunting' });
      return judge({ ...input, content: { ...input.content, reason } });
    };
    const moving = at({ code: 'swinging', ...swing, adrift });
    expect(moving.refusals).toContainEqual({ blocks: 'all', code: 'UNSTEADY', state: 'hunting' });
    expect(moving.charge.code).toBe('REFUSED');
    expect(moving.diagnosis.suspects[0]?.key).toBe('valveHunting');
    expect(moving.diagnosis.suspects.some((s) => s.key === 'lowCharge')).toBe(false);
    expect(at({ code: 'swinging', ...swing }).refusals.some((r) => r.code === 'UNSTEADY')).toBe(
      false,
    );
  });

  it('reads what two gauges tell where the pressures stand still, but not the charge', () => {
    const motion = (key: 'suctionSaturation' | 'liquidSaturation', inside: boolean) => ({
      key,
      tolerance: 0.5,
      value: 280,
      heading: null,
      headingU: null,
      drift: 0,
      driftU: 0.1,
      inside,
      swing: null,
    });
    // R-410A at 90 °F outdoors: high suction, hardly any head.
    const written = { suction: 180, liquid: 255, outdoor: 90 };
    const input = inputOf(written, { state: 'blind' });
    const missing = {
      code: 'missing',
      quantities: ['superheat', 'subcooling'],
      channels: ['Suction line', 'Liquid line'],
    } as const;
    const of = (inside: boolean) =>
      judge({
        ...input,
        content: { ...input.content, reason: missing },
        motions: [motion('suctionSaturation', true), motion('liquidSaturation', inside)],
      });
    expect(of(true).refusals).toContainEqual({
      blocks: 'charge',
      code: 'BLIND',
      missing: missing.channels,
    });
    expect(of(true).charge.code).toBe('REFUSED');
    expect(of(true).diagnosis.suspects[0]?.key).toBe('compressorValveLeak');
    expect(of(false).diagnosis.suspects).toEqual([]);
  });

  it('names only what a finding speaks for, and the check that confirms it', () => {
    const { diagnosis } = of('moving', { observations: ['icedCoil', 'dirtyFilter'] });
    const keys = diagnosis.suspects.map((s) => s.key);
    expect(keys).toContain('icedCoil');
    expect(keys).toContain('lowIndoorAir');
    expect(keys).not.toContain('overcharge');
    expect(keys).not.toContain('nothingWrong');
    expect(diagnosis.nextCheck?.check).toBe('filterStatic');
  });

  it('does not turn a hint into an answer', () => {
    const { diagnosis } = of('moving', { observations: ['oilTraces'] });
    expect(diagnosis.suspects.map((s) => s.key)).toContain('lowCharge');
    expect(diagnosis.answer).toBe('cannotTell');
  });

  it('counts the outcome of a check that was made', () => {
    const outcomes = [{ check: 'outdoorCoil', outcome: 'blocked' }] as const;
    const { diagnosis } = of('moving', { outcomes });
    expect(diagnosis.suspects.map((s) => s.key)).toEqual(['fouledOutdoorCoil']);
  });

  it('is said so in a comparison too', () => {
    const unit = (label: string) => ({
      label,
      takenAt: null,
      input: inputOf(LOW, { state: 'moving' }),
    });
    const text = comparisonText(compare([unit('A'), unit('B')]), 'cooling', 'us').join(' ');
    expect(text).toContain('A: cannot tell.');
    expect(text).not.toContain('Next:');
  });
});
