import type { Judgement } from '../../core/checks/running.ts';
import type { Mode } from '../../core/circuit/types.ts';
import { answerText } from '../../core/diagnosis/answer-text.ts';
import { checkRow } from '../../core/diagnosis/checks-table.ts';
import { percentText } from '../../core/diagnosis/format.ts';
import { hazardText } from '../../core/diagnosis/hazard-text.ts';
import {
  chargeText,
  refusalText,
  SUSPECT_LABEL,
  verdictOddsText,
  verdictText,
} from '../../core/diagnosis/words.ts';
import type { UnitSystem } from '../app/format.ts';

/**
 * A judgement as a note of the record: what is urgent, the answer, and what it rests on.
 * @param standing the lines of the standing check, of a unit that is off
 */
export function noteText(
  unit: string,
  judgement: Judgement,
  mode: Mode,
  system: UnitSystem,
  standing: readonly string[] = [],
): string {
  if (standing.length > 0 && judgement.diagnosis.suspects.length === 0) {
    const urgent = judgement.hazards.map((hazard) => hazardText(hazard, system));
    return [`Unit ${unit}, standing check.`, ...urgent, ...standing].join('\n');
  }
  const suspects = judgement.diagnosis.suspects
    .slice(0, 4)
    .map((s) => `${SUSPECT_LABEL[s.key]} ${percentText(s.probability)}`);
  const { answer, nextCheck } = judgement.diagnosis;
  const next = answer === 'nothingWrong' ? null : nextCheck;
  return [
    `Unit ${unit}, judgement.`,
    ...judgement.hazards.map((hazard) => hazardText(hazard, system)),
    ...standing,
    `${answerText(judgement.diagnosis, judgement.refusals, mode).title}.`,
    ...(suspects.length === 0 ? [] : [`Suspects: ${suspects.join('; ')}.`]),
    chargeText(judgement.charge, system),
    ...judgement.refusals.map((refusal) => refusalText(refusal, system)),
    ...judgement.verdicts.map((row) => `${verdictText(row, system)} (${verdictOddsText(row)})`),
    ...(next === null ? [] : [`Check next: ${checkRow(next.check).label}.`]),
  ].join('\n');
}
