import { useMemo, type ReactNode } from 'react';
import type { Mark } from '../../core/circuit/types.ts';
import { hazardsOf } from '../../core/diagnosis/hazards.ts';
import { HAZARD_LABEL, hazardText } from '../../core/diagnosis/hazard-text.ts';
import { liveContent } from '../../core/diagnosis/live-content.ts';
import { MARK_TEXT } from '../app/text.ts';
import { SWAP_TEXT, swapLine } from '../sensors/sensor-text.ts';
import { useConfig, useEngine, useQuestions, useUnits } from '../store/context.ts';
import type { Role } from '../store/store.ts';

/** Said elsewhere on the screen: by the banner and by the state. */
const SAID: readonly Mark[] = ['simulated', 'unsettled', 'hunting', 'typedByHand'];

interface Props {
  readonly role: Role;
  readonly unit: string;
}

/** What forbids leaving the unit like this, and what lowers the worth of the two large figures. */
export function MarksLine({ role, unit }: Props): ReactNode {
  const superheat = useEngine(role, unit, (s) => s.figures.superheat?.marks ?? null) ?? [];
  const subcooling = useEngine(role, unit, (s) => s.figures.subcooling?.marks ?? null) ?? [];
  const marks = [...new Set([...superheat, ...subcooling])].filter((m) => !SAID.includes(m));
  const hazards = useHazards(role, unit);
  const questions = useQuestions(role, unit);
  const system = useUnits();
  if (marks.length + hazards.length + questions.length === 0) return null;
  return (
    <p className="marks-line">
      {questions.map((question) => (
        <strong
          key={question.code}
          className="swap-question"
          role="status"
          title={swapLine(question, system)}
        >
          {SWAP_TEXT[question.code]}
        </strong>
      ))}
      {hazards.map((hazard) => (
        <strong key={hazard.code} className="hazard-word" title={hazard.text}>
          {hazard.label}
        </strong>
      ))}
      <span>{marks.map((m) => MARK_TEXT[m]).join(' · ')}</span>
    </p>
  );
}

function useHazards(role: Role, unit: string) {
  const state = useEngine(role, unit, (s) => s);
  const config = useConfig(role, unit);
  const system = useUnits();
  return useMemo(() => {
    const content = state === null || config === null ? null : liveContent(state, config);
    if (content === null || config === null) return [];
    return hazardsOf(content, config).map((hazard) => ({
      code: hazard.code,
      label: HAZARD_LABEL[hazard.code],
      text: hazardText(hazard, system),
    }));
  }, [state, config, system]);
}
