import { describe, expect, it } from 'vitest';
import { answerText } from '../../../../core/diagnosis/answer-text.ts';
import type { Diagnosis } from '../../../../core/diagnosis/diagnose.ts';
import type { SuspectKey } from '../../../../core/diagnosis/suspects.ts';
import type { Refusal } from '../../../../core/diagnosis/types.ts';

const AIRFLOW: Refusal = { blocks: 'charge', code: 'AIRFLOW_UNKNOWN', mode: 'cooling' };
const UNSTEADY: Refusal = { blocks: 'all', code: 'UNSTEADY', state: 'moving' };

function diagnosis(answer: Diagnosis['answer'], ...keys: SuspectKey[]) {
  const suspects = keys.map((key) => ({
    key,
    probability: keys.length === 1 ? 0.6 : 0.8 / keys.length,
    for: [],
    against: [],
    nextCheck: null,
  }));
  return { answer, suspects, nextCheck: null, fits: null, open: null, checks: [] };
}

describe('the answer in words', () => {
  it('names the first suspect, and what it rests on where the readings do not count', () => {
    const low = diagnosis('suspect', 'lowCharge');
    expect(answerText(low, [AIRFLOW])).toMatchObject({
      title: 'First suspect: Too little refrigerant',
      checkLater: false,
    });
    expect(answerText(low, [UNSTEADY]).line).toContain('do not count yet');
  });

  it('puts what stands in the way before any check', () => {
    const open = diagnosis('cannotTell', 'nothingWrong');
    expect(answerText(open, [AIRFLOW])).toMatchObject({ checkLater: true });
    expect(answerText(open, [AIRFLOW]).line).toContain('stands in the way');
    expect(answerText(open, [])).toMatchObject({ checkLater: false });
    const rival = answerText(diagnosis('cannotTell', 'nothingWrong', 'fouledOutdoorCoil'), []);
    expect(rival.line).toContain('Outdoor coil fouled or its fan weak (40 %) is not ruled out');
    const alike = { ...open, fits: 'compressorValveLeak' } as const;
    expect(answerText(alike, []).line).toContain(
      'nearly the same with this: Compressor not pumping',
    );
    expect(answerText(diagnosis('cannotTell'), [UNSTEADY]).title).toBe('Nothing can be told yet');
  });

  it('names the hazard beside which a unit that reads as a sound one is not called so', () => {
    const superheat = { value: 0.5, u: 1 };
    const wet = { code: 'LIQUID_BACK', reading: superheat, limit: 2.8, probability: 1 } as const;
    const said = 'not called sound beside this: liquid may reach the compressor';
    const open = diagnosis('cannotTell', 'nothingWrong', 'overcharge');
    expect(answerText(open, [], 'cooling', [wet]).line).toContain(said);
    expect(answerText(open, [AIRFLOW], 'cooling', [wet]).line).toContain(said);
    expect(answerText(open, [], 'cooling').line).not.toContain('beside this');
    // Where a fault leads there is no soundness to take back, and what is not read is not said.
    const fault = diagnosis('cannotTell', 'overcharge', 'nothingWrong');
    expect(answerText(fault, [], 'cooling', [wet]).line).not.toContain('beside this');
    expect(answerText(open, [UNSTEADY], 'cooling', [wet]).line).not.toContain('beside this');
  });

  it('says that something changed after what read as sound, whatever else stands in the way', () => {
    const open = { code: 'CHANGED_AFTER' } as const;
    const changed = { ...diagnosis('cannotTell', 'nothingWrong', 'overcharge'), open };
    for (const refusals of [[], [AIRFLOW]]) {
      const { title, line } = answerText(changed, refusals, 'cooling');
      expect(title).toBe('It cannot be told yet');
      expect(line).toContain('read as a sound unit (40 %), but then something changed');
    }
  });

  it('names two that look alike together, but not ice beside the little air that makes it', () => {
    for (const answer of ['suspect', 'cannotTell'] as const) {
      const { title, line } = answerText(diagnosis(answer, 'overcharge', 'nonCondensables'), []);
      expect(title).toMatch(/^One of two: Too much refrigerant; or Air or other/);
      expect(line).toContain('the next check parts them');
    }
    expect(answerText(diagnosis('suspect', 'lowIndoorAir', 'icedCoil'), []).title).toMatch(
      /^First/,
    );
    expect(answerText(diagnosis('suspect', 'lowCharge', 'nothingWrong'), []).title).toMatch(
      /^First/,
    );
  });

  it('names in heating no two that nothing shows', () => {
    const open = diagnosis('cannotTell', 'lowCharge', 'liquidLineRestriction');
    expect(answerText(open, [], 'heating').title).toBe('It cannot be told yet');
    expect(answerText({ ...open, answer: 'suspect' }, [], 'heating').title).toMatch(/^One of two/);
    expect(answerText(open, [], 'cooling').title).toMatch(/^One of two/);
  });

  it('says what is in the way and what to do', () => {
    const open = diagnosis('cannotTell', 'nothingWrong');
    expect(answerText(open, [UNSTEADY]).line).toMatch(/the readings still move\. Leave the unit/);
    expect(answerText(open, [AIRFLOW]).line).toMatch(/airflow is not known\. Measure it/);
    expect(answerText(diagnosis('nothingWrong', 'nothingWrong'), [AIRFLOW]).line).toMatch(
      /charge is not judged\. What stands in the way: the airflow/,
    );
  });

  it('keeps no check waiting for the charge in heating, where only the maker tells it', () => {
    const open = diagnosis('cannotTell', 'lowCharge');
    const maker: Refusal = { blocks: 'charge', code: 'HEATING_BY_MAKER_ONLY' };
    expect(answerText(open, [maker], 'heating')).toMatchObject({ checkLater: false });
    expect(answerText(open, [UNSTEADY, maker], 'heating')).toMatchObject({ checkLater: true });
  });

  it('presses no check upon a unit with nothing wrong', () => {
    const sound = answerText(diagnosis('nothingWrong', 'nothingWrong'), []);
    expect(sound).toMatchObject({
      checkLater: true,
      line: 'By all that is known 60 % likely. No check is asked for.',
    });
  });

  it('asks to confirm a likely cause where no check would tell more', () => {
    const sure = diagnosis('suspect', 'liquidLineRestriction');
    expect(answerText(sure, []).line).toContain('confirm it as the maker says');
    const check = { check: 'leakSearch', bits: 0.1, bitsPerMinute: 0.01 } as const;
    expect(answerText({ ...sure, nextCheck: check }, []).line).not.toContain('confirm');
  });
});
