import { describe, expect, it } from 'vitest';
import {
  differenceText,
  numberText,
  pressureDifferenceText,
  pressureText,
  temperatureText,
} from '../../../../core/diagnosis/format.ts';
import { featureText } from '../../../../core/diagnosis/evidence-text.ts';
import { SOURCE_LABEL, verdictText } from '../../../../core/diagnosis/words.ts';
import { judgeReading } from '../../../../core/diagnosis/verdicts.ts';

describe('numbers in words', () => {
  it('know no negative zero, and a true minus sign', () => {
    expect(differenceText(-0.01, 'us')).toBe('0.0 °F');
    expect(differenceText(-0.01, 'si')).toBe('0.0 K');
    expect(differenceText(-1, 'us')).toBe('−1.8 °F');
    expect(temperatureText(263.15, 'si')).toBe('−10.0 °C');
    expect(temperatureText(273.15, 'si')).toBe('0.0 °C');
    expect(pressureText(90_000, 101_325, 'si')).toBe('−11 kPa gauge');
    expect(pressureText(915_000, 101_325, 'bar')).toBe('8.1 bar gauge');
    expect(pressureDifferenceText(-20_000, 'bar')).toBe('−0.20 bar');
    expect(pressureText(101_300, 101_325, 'us')).toBe('0 psig');
    expect(pressureDifferenceText(-100, 'us')).toBe('0.0 psi');
    expect(pressureDifferenceText(-20_000, 'si')).toBe('−20.0 kPa');
    expect(featureText('current', -0.04, 'us')).toBe('0.0 A');
    expect(numberText(-2.26, 1)).toBe('−2.3');
  });
});

describe('what a technician reads', () => {
  it('says of a verdict what its odds beside it do not', () => {
    const target = {
      quantity: 'subcooling',
      value: 5,
      u: 0,
      low: 4,
      high: 6,
      source: { code: 'nameplate' },
      fromMemory: false,
    } as const;
    for (const value of [2, 4.2, 5, 6.2, 9]) {
      expect(verdictText(judgeReading({ value, u: 0.5 }, target), 'us')).not.toContain('%');
    }
  });

  it('says of a table that was not read in print that the book is to be checked', () => {
    for (const code of ['ra32Superheat', 'ra32Split'] as const) {
      expect(SOURCE_LABEL[code]).toContain('check the printed table');
      expect(SOURCE_LABEL[code]).not.toContain('memory');
    }
  });

  it('does not reassure of a superheat that only passes the wide range of a working valve', () => {
    const range = {
      quantity: 'superheat',
      value: null,
      u: 0,
      low: 4 / 1.8,
      high: 25 / 1.8,
      source: { code: 'ra32ValveRange' },
      fromMemory: false,
    } as const;
    const said = (degF: number): string =>
      verdictText(judgeReading({ value: degF / 1.8, u: 0.2 }, range), 'us');
    expect(said(20)).toContain('within its limits. For a valve it is high all the same');
    expect(said(20)).toContain('5.0 °F to 17.0 °F is usual');
    expect(said(4.6)).toContain('it is low all the same');
    expect(said(10)).toMatch(/within its limits\.$/);
  });
});
