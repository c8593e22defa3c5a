import { describe, expect, it } from 'vitest';
import { changedAfter, openAfterChange } from '../../../../core/checks/changed-after.ts';
import { judge } from '../../../../core/checks/running.ts';
import type { StateSpan } from '../../../../core/engine-types.ts';
import type { Reason } from '../../../../core/steadiness/types.ts';
import { differenceFromFahrenheit } from '../../../../core/units/temperature.ts';
import { STILL } from '../../../support/snapshot.ts';
import { inputOf, NO_PLATE, SOUND } from '../diagnosis/make.ts';

const STEP: Reason = { code: 'step', quantity: 'liquidSaturation', size: 1, at: 1500, within: 10 };
const STOPPED: Reason = { code: 'stopped', at: 1547 };
const GOES_ON: Reason = { code: 'goesOn', quantity: 'liquidSaturation', change: 3, seconds: 150 };
const span = (state: StateSpan['state'], from: number, to: number, reason: Reason): StateSpan => ({
  state,
  from,
  to,
  reason,
  snapshot: null,
});
const RESTED = span('settled', 700, 1504, STILL);
const after = (...spans: StateSpan[]): boolean => changedAfter([RESTED, ...spans], 1471);

describe('what was seen to change after the readings that are judged', () => {
  it('is a disturbance, and a movement that goes on', () => {
    expect(after(span('disturbed', 1504, 1547, STEP), span('idle', 1547, 2000, STOPPED))).toBe(
      true,
    );
    expect(after(span('moving', 1504, 1700, GOES_ON))).toBe(true);
  });

  it('is not a stop, though it disturbs first, nor a sensor that falls silent', () => {
    expect(after()).toBe(false);
    expect(after(span('idle', 1504, 1800, STOPPED))).toBe(false);
    expect(after(span('disturbed', 1504, 1510, STEP), span('idle', 1510, 1800, STOPPED))).toBe(
      false,
    );
    const missing: Reason = { code: 'missing', quantities: ['superheat'], channels: [] };
    expect(after(span('blind', 1504, 1800, missing))).toBe(false);
  });

  it('is not what came before them', () => {
    expect(changedAfter([span('disturbed', 600, 640, STEP), RESTED], 1471)).toBe(false);
  });

  it('takes back that nothing is wrong, and only that', () => {
    const nameplate = { ...NO_PLATE, targetSubcooling_K: differenceFromFahrenheit(10) };
    const sound = judge(inputOf(SOUND, {}, { nameplate })).diagnosis;
    expect(sound.answer).toBe('nothingWrong');
    const taken = openAfterChange(sound);
    expect(taken).toMatchObject({ answer: 'cannotTell', open: { code: 'CHANGED_AFTER' } });
    expect(taken.suspects).toEqual(sound.suspects);
    const over = judge(inputOf({ ...SOUND, liquid: 420, liquidLine: 97 }, {}, { nameplate }));
    expect(openAfterChange(over.diagnosis)).toEqual(over.diagnosis);
  });
});
