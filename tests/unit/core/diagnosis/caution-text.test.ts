import { describe, expect, it } from 'vitest';
import { CAUTION_TEXT, cautionsFor } from '../../../../core/diagnosis/caution-text.ts';
import {
  CHECK_KEYS,
  checkRow,
  type CautionKey,
  type CheckKey,
} from '../../../../core/diagnosis/checks-table.ts';

const beside = (key: CheckKey): readonly CautionKey[] => checkRow(key).cautions;

describe('cautions beside a check', () => {
  it('stand with every check that lets refrigerant out or handles it', () => {
    for (const key of ['sensorCheck', 'leakSearch', 'identify', 'recoverWeigh'] as const) {
      expect(beside(key), key).toContain('refrigerantHandling');
      expect(beside(key), key).toContain('frostbite');
    }
    for (const key of ['pumpDown', 'leakSearch', 'identify', 'recoverWeigh'] as const) {
      expect(beside(key), key).toContain('flammable');
    }
  });

  it('stand with every check that reaches into a cabinet or measures under voltage', () => {
    for (const key of ['filterStatic', 'outdoorCoil', 'cleanOutdoorCoil', 'standing'] as const) {
      expect(beside(key), key).toContain('lockout');
    }
    for (const key of ['amperes', 'watchCycle'] as const) {
      expect(beside(key), key).toContain('liveElectricity');
    }
  });

  it('say what hurts and what prevents it', () => {
    expect(CAUTION_TEXT.lockout).toMatch(/discharge capacitors.*absence of voltage/);
    expect(CAUTION_TEXT.refrigerantHandling).toMatch(/never vent/);
    expect(CAUTION_TEXT.frostbite).toMatch(/gloves and goggles/);
    expect(CAUTION_TEXT.flammable).toMatch(/ventilated.*no flame, spark/);
    expect(CAUTION_TEXT.pressureTest).toMatch(/dry nitrogen only.*regulator/);
    expect(CAUTION_TEXT.pressureTest).toMatch(/oxygen or compressed air can explode/i);
    expect(CAUTION_TEXT.runPumpedDown).toMatch(/leak on the low side.*can explode/);
  });

  it('have a text each, and a check no caution it does not know', () => {
    const known = Object.keys(CAUTION_TEXT);
    for (const key of CHECK_KEYS) {
      for (const caution of beside(key)) expect(known).toContain(caution);
      expect(cautionsFor(beside(key))).toHaveLength(beside(key).length);
    }
  });

  it('are not replaced by an instruction that asks for the unsafe thing', () => {
    for (const key of CHECK_KEYS) {
      expect(checkRow(key).instruction, key).not.toMatch(/\b(purge|vent|top up|top off)\b/i);
    }
  });
});
