import { useEffect, useMemo, useRef, type ReactNode } from 'react';
import { judge, type Judgement } from '../../core/checks/running.ts';
import { unitStands } from '../../core/steadiness/rest.ts';
import type { Standing, StandingRefusal } from '../../core/checks/standing.ts';
import type { JudgementInput } from '../../core/diagnosis/types.ts';
import type { Answers } from '../../core/record/answers.ts';
import type { Result } from '../../core/result.ts';
import { DEFER } from '../app/cautions.ts';
import { useApp, useJobUnit, useUnits } from '../store/context.ts';
import type { Role } from '../store/store.ts';
import { isTyped } from '../store/typed.ts';
import { AnswerPart } from './AnswerPart.tsx';
import { AskedForm } from './AskedForm.tsx';
import { inputFor, knownOutcomes, observationsOf, type Judged } from './asked.ts';
import { ComparePart } from './ComparePart.tsx';
import { CyclePart } from './CyclePart.tsx';
import { ReadingsPart } from './ReadingsPart.tsx';
import { standingLines, StandingPart } from './StandingPart.tsx';
import { SuspectsPart } from './SuspectsPart.tsx';
import { useAsked } from './use-asked.ts';
import { useReferences, useTakenAt, type References } from './use-references.ts';
import { WriteDown } from './WriteDown.tsx';
import './judgement.css';

interface Props {
  readonly unit: string;
  readonly judged: Judged;
  /** The session whose present readings are judged; null for a snapshot. */
  readonly role: Role | null;
  /** The standing check while the unit is off; null while it runs and for a snapshot. */
  readonly standing: Result<Standing, StandingRefusal> | null;
  readonly onClose: () => void;
}

/** The whole judgement of one unit's readings, over the room it was asked in. */
export function JudgementSheet({ unit, judged, role, standing, onClose }: Props): ReactNode {
  const dialog = useRef<HTMLDialogElement>(null);
  const system = useUnits();
  const jobUnit = useJobUnit(unit);
  const findings = useApp((s) => s.job?.findings);
  const references = useReferences(unit, judged, role);
  const [asked, change] = useAsked(unit, judged.config.mode === 'heating');
  useEffect(() => {
    dialog.current?.showModal();
  }, []);
  const input = useMemo(
    () =>
      inputFor(judged, asked, jobUnit, findings ?? [], [...references.own, ...references.others]),
    [judged, asked, jobUnit, findings, references],
  );
  const judgement = useMemo(() => (input === null ? null : judge(input)), [input]);
  return (
    <dialog
      ref={dialog}
      className="judgement"
      aria-label={`Judgement of unit ${unit}`}
      onClose={onClose}
    >
      <header className="judgement-head">
        <Title unit={unit} judged={judged} />
        {judgement !== null && (
          <WriteDown
            unit={unit}
            judgement={judgement}
            mode={judged.config.mode}
            standing={
              standing === null
                ? []
                : standingLines(
                    { outcome: standing, atmosphere: judged.config.atmosphere.pressure },
                    system,
                  )
            }
          />
        )}
        <button type="button" onClick={() => dialog.current?.close()}>
          Close
        </button>
      </header>
      {input === null || judgement === null ? (
        <p>Nothing has been read yet.</p>
      ) : (
        <Body
          unit={unit}
          judged={judged}
          role={role}
          standing={standing}
          input={input}
          judgement={judgement}
          references={references}
          asked={asked}
          change={change}
        />
      )}
      <p className="judgement-defer">{DEFER}</p>
    </dialog>
  );
}

interface BodyProps extends Omit<Props, 'onClose'> {
  readonly input: JudgementInput;
  readonly judgement: Judgement;
  readonly references: References;
  readonly asked: Answers;
  readonly change: (part: Partial<Answers>) => void;
}

/** The answer, and beneath it what it rests on beside what it may come from. */
function Body(p: BodyProps): ReactNode {
  const { unit, judged, role, standing, input, judgement, references, asked, change } = p;
  const system = useUnits();
  const findings = useApp((s) => s.job?.findings);
  const taken = useTakenAt(judged, role);
  const off = unitStands(input.content);
  // Of a unit that stands, and of which nothing else is known, there is nothing to weigh.
  const alone = off && judgement.diagnosis.suspects.length === 0;
  return (
    <>
      <AnswerPart judgement={judgement} mode={input.config.mode} system={system} off={off}>
        {standing !== null && (
          <StandingPart outcome={standing} atmosphere={judged.config.atmosphere.pressure} />
        )}
      </AnswerPart>
      <div className="judgement-body" data-alone={alone}>
        <div>
          <ReadingsPart
            judgement={judgement}
            content={input.content}
            mode={input.config.mode}
            system={system}
            off={off}
          />
          {!off && <CyclePart content={input.content} config={input.config} system={system} />}
        </div>
        {!alone && (
          <div>
            <SuspectsPart
              diagnosis={judgement.diagnosis}
              refusals={judgement.refusals}
              mode={input.config.mode}
              system={system}
              outcomes={knownOutcomes(asked.outcomes)}
              onOutcomes={(outcomes) => change({ outcomes })}
            />
            {!off && (
              <ComparePart unit={unit} input={input} takenAt={taken} others={references.others} />
            )}
            <AskedForm
              asked={asked}
              change={change}
              fixed={input.config.metering === 'fixed'}
              typed={isTyped(input.config) ? judged.session : null}
              observations={observationsOf(findings ?? [], unit)}
              references={references}
              chart={Object.keys(input.maker).length > 0}
            />
          </div>
        )}
      </div>
    </>
  );
}

function Title({ unit, judged }: Pick<Props, 'unit' | 'judged'>): ReactNode {
  return (
    <>
      <h2>
        What the readings say <span className="unit-key">{unit}</span>
      </h2>
      <p>
        {judged.snapshot === null ? 'as they stand now' : `snapshot “${judged.snapshot.label}”`}
      </p>
    </>
  );
}
