import type { ReactNode } from 'react';
import type { Mode } from '../../core/circuit/types.ts';
import { answerText } from '../../core/diagnosis/answer-text.ts';
import { cautionsFor } from '../../core/diagnosis/caution-text.ts';
import { checkRow, type CheckKey } from '../../core/diagnosis/checks-table.ts';
import type { Diagnosis, Suspect } from '../../core/diagnosis/diagnose.ts';
import type { NextCheck } from '../../core/diagnosis/next-check.ts';
import { foldedText, weighedText, weighty } from '../../core/diagnosis/evidence-text.ts';
import { percentText } from '../../core/diagnosis/format.ts';
import type { CheckOutcome, Refusal } from '../../core/diagnosis/types.ts';
import { SUSPECT_LABEL } from '../../core/diagnosis/words.ts';
import { Cautions } from '../app/Cautions.tsx';
import type { UnitSystem } from '../app/format.ts';
import { SuspectBar } from './Odds.tsx';

interface Props {
  readonly diagnosis: Diagnosis;
  readonly refusals: readonly Refusal[];
  readonly mode: Mode;
  readonly system: UnitSystem;
  readonly outcomes: readonly CheckOutcome[];
  readonly onOutcomes: (outcomes: readonly CheckOutcome[]) => void;
}

/** A suspect under this probability is kept to the closing line. */
const SHOWN = 0.03;

/** The check that tells most, and the suspects with what speaks for and against each. */
export function SuspectsPart(props: Props): ReactNode {
  const { diagnosis, mode, system, outcomes, onOutcomes } = props;
  const answer = answerText(diagnosis, props.refusals, mode);
  const shown = diagnosis.suspects.filter((s, i) => i < 3 || s.probability >= SHOWN).slice(0, 7);
  return (
    <section aria-label="Suspects">
      {diagnosis.nextCheck !== null && (
        <NextCheckPart
          next={diagnosis.nextCheck}
          later={answer.checkLater}
          onOutcome={(outcome) => onOutcomes([...outcomes, outcome])}
        />
      )}
      {outcomes.length > 0 && (
        <ul className="checks-done" aria-label="Checks made">
          {outcomes.map(({ check, outcome }) => (
            <li key={check}>
              {checkRow(check).label}: {checkRow(check).outcomes[outcome] ?? outcome}
              <button
                type="button"
                className="quiet"
                onClick={() => onOutcomes(outcomes.filter((o) => o.check !== check))}
              >
                Take back
              </button>
            </li>
          ))}
        </ul>
      )}
      {shown.length > 0 && <h3>How likely each cause is</h3>}
      <ol className="suspects">
        {shown.map((suspect) => (
          <SuspectRow key={suspect.key} suspect={suspect} mode={mode} system={system} />
        ))}
      </ol>
    </section>
  );
}

function SuspectRow(p: {
  readonly suspect: Suspect;
  readonly mode: Mode;
  readonly system: UnitSystem;
}): ReactNode {
  const { suspect, mode, system } = p;
  const evidence = weighty(suspect);
  const lines = [...evidence.for, ...evidence.against];
  const folded = foldedText(evidence.folded);
  return (
    <li>
      <details>
        <summary>
          <span>{SUSPECT_LABEL[suspect.key]}</span>
          <SuspectBar probability={suspect.probability} />
          <span className="number">{percentText(suspect.probability)}</span>
        </summary>
        <ul>
          {lines.length === 0 && (
            <li className="muted">Nothing speaks clearly for or against it.</li>
          )}
          {lines.map((weighed) => {
            const text = weighedText(weighed, mode, system);
            return <li key={text}>{text}</li>;
          })}
          {lines.length > 0 && folded !== null && <li className="muted">{folded}</li>}
          {suspect.nextCheck !== null && (
            <li>
              To tell it from the others: <strong>{checkRow(suspect.nextCheck.check).label}</strong>
              .
            </li>
          )}
        </ul>
      </details>
    </li>
  );
}

function NextCheckPart(p: {
  readonly next: NextCheck;
  /** Something else comes first: the check is there for who asks for it. */
  readonly later: boolean;
  readonly onOutcome: (outcome: CheckOutcome) => void;
}): ReactNode {
  const check: CheckKey = p.next.check;
  const row = checkRow(check);
  const body = (
    <>
      <p>{row.instruction}</p>
      {row.cautions.length > 0 && <Cautions lines={cautionsFor(row.cautions)} />}
      <div className="outcomes" role="group" aria-label="What came out">
        {Object.entries(row.outcomes).map(([outcome, text]) => (
          <button key={outcome} type="button" onClick={() => p.onOutcome({ check, outcome })}>
            {text}
          </button>
        ))}
      </div>
    </>
  );
  if (p.later) {
    return (
      <details className="next-check" data-later="true">
        <summary>
          A check that would tell more: {row.label} <small>about {row.minutes} min</small>
        </summary>
        {body}
      </details>
    );
  }
  return (
    <div className="next-check">
      <h3>
        {p.next.confirms === true ? 'Confirm first' : 'Check next'}: {row.label}{' '}
        <small>about {row.minutes} min</small>
      </h3>
      {body}
    </div>
  );
}
