import type { ReactNode } from 'react';
import type { Mode } from '../../core/circuit/types.ts';
import type { Judgement } from '../../core/checks/running.ts';
import { answerText } from '../../core/diagnosis/answer-text.ts';
import { barrierText } from '../../core/diagnosis/barrier-text.ts';
import { chargeCautions } from '../../core/diagnosis/caution-text.ts';
import { hazardText } from '../../core/diagnosis/hazard-text.ts';
import { chargeText } from '../../core/diagnosis/words.ts';
import { Cautions } from '../app/Cautions.tsx';
import type { UnitSystem } from '../app/format.ts';

interface Props {
  readonly judgement: Judgement;
  readonly mode: Mode;
  readonly system: UnitSystem;
  /** Whether the unit stands: then the answer is what its standing tells, and what was seen before. */
  readonly off: boolean;
  /** What is told besides, before the answer. */
  readonly children: ReactNode;
}

/** The judgement in short, above all that it rests on: what is urgent, the answer, the charge. */
export function AnswerPart({ judgement, mode, system, off, children }: Props): ReactNode {
  const { diagnosis, refusals, hazards } = judgement;
  const answer = answerText(diagnosis, refusals, mode, hazards);
  const chargeWork = chargeCautions(judgement.charge);
  return (
    <div className="judgement-top">
      {hazards.length > 0 && (
        <section aria-label="Before it is left running">
          <h3>Before it is left running</h3>
          <ul className="hazards">
            {hazards.map((hazard) => (
              <li key={hazard.code}>{hazardText(hazard, system)}</li>
            ))}
          </ul>
        </section>
      )}
      {children}
      {off && diagnosis.suspects.length === 0 ? (
        <p className="muted">
          Superheat, subcooling and the charge are judged while the unit runs, once it is still.
        </p>
      ) : (
        <div className="answer">
          <section aria-label="Answer">
            <h3>{answer.title}</h3>
            <p>{answer.line}</p>
          </section>
          <section aria-label="Charge">
            <h3>The charge</h3>
            <p data-code={judgement.charge.code}>{chargeWords(judgement, answer.line, system)}</p>
            {chargeWork.length > 0 && <Cautions lines={chargeWork} />}
          </section>
        </div>
      )}
    </div>
  );
}

/** What is said of the charge; where it is not judged, the first thing in the way, once. */
function chargeWords(judgement: Judgement, answer: string, system: UnitSystem): string {
  const { charge, refusals } = judgement;
  const barrier = barrierText(refusals, 'all') || barrierText(refusals, 'charge');
  if (charge.code !== 'REFUSED' || barrier === '' || answer.includes(barrier)) {
    return chargeText(charge, system);
  }
  return `The charge is not judged. ${barrier}`;
}
