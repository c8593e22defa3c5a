import { describe, expect, it } from 'vitest';
import { reasonFormat, reasonText } from '../../../../core/steadiness/reason-text.ts';
import type { Reason } from '../../../../core/steadiness/types.ts';

const STILL = {
  code: 'still',
  counted: ['superheat', 'subcooling'],
  confidence: 0.976,
  horizon: 300,
  quantity: 'superheat',
  drift: 0.1,
  trend: null,
} as const;

const REASONS: readonly Reason[] = [
  { code: 'noData' },
  { code: 'notRunning' },
  { code: 'stopped', at: 12 },
  { code: 'missing', quantities: ['superheat', 'subcooling'], channels: ['suctionLineTemp'] },
  { code: 'minimumRun', runTime: 100, minimum: 600, seenStart: true },
  { code: 'drifting', quantity: 'superheat', drift: -1, driftU: 0.5, horizon: 300 },
  {
    code: 'unsure',
    quantity: 'subcooling',
    drift: -0.5,
    driftU: 1,
    tolerance: 5 / 9,
    horizon: 300,
  },
  { code: 'swinging', quantity: 'superheat', amplitude: 2, period: 90 },
  { code: 'step', quantity: 'suctionSaturation', size: 2, at: 700, within: 9 },
  STILL,
  { code: 'nearly', counted: ['superheat'], confidence: 0.861, asked: 0.9, horizon: 300 },
  { code: 'tooFew', quantity: 'airDrop' },
  { code: 'goesOn', quantity: 'suctionSaturation', change: -0.5, seconds: 150 },
  { code: 'departed', quantity: 'superheat', change: -0.7, tolerance: 5 / 9, declaredAt: 700 },
];

describe('reasonText', () => {
  it('makes one sentence of every reason', () => {
    for (const reason of REASONS) {
      const text = reasonText(reason);
      expect(text).toMatch(/^[A-Z].*\.$/);
      expect(text).not.toMatch(/undefined|NaN|null/);
    }
  });

  it("says numbers in the caller's units", () => {
    const drifting = REASONS[5] ?? { code: 'noData' };
    expect(reasonText(drifting)).toContain('falling: 1.8 °F ± 0.9 °F to come within 5 min');
    expect(reasonText(drifting, reasonFormat('si', 'cooling'))).toContain('1.0 K ± 0.5 K');
  });

  it('tells the air of a unit that heats as getting warmer', () => {
    const reason: Reason = { code: 'goesOn', quantity: 'airDrop', change: -0.5, seconds: 150 };
    const heating = reasonText(reason, reasonFormat('us', 'heating'));
    expect(heating).toBe('The air temperature rise keeps rising: 0.9 °F in the last 2 min 30 s.');
    expect(reasonText(reason)).toContain('air temperature drop keeps falling');
    const other: Reason = { ...reason, quantity: 'superheat' };
    expect(reasonText(other, reasonFormat('us', 'heating'))).toContain('superheat keeps falling');
  });

  it('counts the expected change into what may come', () => {
    const unsure = REASONS[6] ?? { code: 'noData' };
    expect(reasonText(unsure)).toContain('by up to 2.7 °F within 5 min, and 1.0 °F is allowed');
  });

  it('prints no doubt that says nothing', () => {
    const unsure = REASONS[6] ?? { code: 'noData' };
    expect(reasonText({ ...unsure, driftU: 17 } as Reason)).toBe(
      'How far the subcooling still moves cannot be told yet; 1.0 °F within 5 min is allowed.',
    );
  });

  it('never says that as much may come as is allowed', () => {
    const unsure = REASONS[6] ?? { code: 'noData' };
    const text = reasonText({ ...unsure, drift: 0, driftU: 0.57 } as Reason);
    expect(text).toContain('a little more than the 1.0 °F that is allowed within 5 min');
  });

  it('says what is still asked for where all is nearly still', () => {
    const nearly: Reason = {
      code: 'nearly',
      counted: ['superheat', 'subcooling'],
      confidence: 0.861,
      asked: 0.9,
      horizon: 300,
    };
    expect(reasonText(nearly)).toContain('86 % sure that superheat and subcooling stay within');
    expect(reasonText({ ...nearly, counted: ['superheat'] })).toContain('that superheat stays');
    expect(reasonText(nearly)).toContain('90 % is asked for');
    expect(reasonText({ ...nearly, confidence: 0.93 })).toContain('must hold a little longer');
  });

  it('tells of a slow trend', () => {
    expect(reasonText(STILL)).toBe(
      'Superheat and subcooling should stay within tolerance for 5 min (97 % sure).',
    );
    expect(reasonText({ ...STILL, counted: ['superheat'] })).toMatch(/^Superheat should stay/);
    const text = reasonText({ ...STILL, trend: { change: -0.3, seconds: 150 } });
    expect(text).toBe(
      'Superheat and subcooling should stay within tolerance for 5 min (97 % sure). The superheat fell 0.5 °F in 2 min 30 s: read again if it goes on.',
    );
  });

  it('never claims certainty', () => {
    const sure: Reason = { ...STILL, confidence: 0.99999 };
    expect(reasonText(sure)).toContain('over 99 %');
  });
});
