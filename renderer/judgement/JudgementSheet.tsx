import { useEffect, useMemo, useRef, type ReactNode } from 'react';
import { judge } from '../../core/checks/running.ts';
import type { Standing, StandingRefusal } from '../../core/checks/standing.ts';
import { answerText } from '../../core/diagnosis/answer-text.ts';
import { checkRow } from '../../core/diagnosis/checks-table.ts';
import { percentText } from '../../core/diagnosis/format.ts';
import {
  chargeText,
  SUSPECT_LABEL,
  verdictOddsText,
  verdictText,
} from '../../core/diagnosis/words.ts';
import type { Judgement } from '../../core/checks/running.ts';
import type { Result } from '../../core/result.ts';
import { DEFER } from '../app/cautions.ts';
import type { UnitSystem } from '../app/format.ts';
import { useApp, useCommand, useJobUnit, useServices, useUnits } from '../store/context.ts';
import { notify, type Role } from '../store/store.ts';
import { isTyped } from '../store/typed.ts';
import { AskedForm } from './AskedForm.tsx';
import { inputFor, knownOutcomes, observationsOf, type Judged } from './asked.ts';
import { ComparePart } from './ComparePart.tsx';
import { CyclePart } from './CyclePart.tsx';
import { ReadingsPart } from './ReadingsPart.tsx';
import { StandingPart } from './StandingPart.tsx';
import { SuspectsPart } from './SuspectsPart.tsx';
import { useAsked } from './use-asked.ts';
import { useReferences, useTakenAt } from './use-references.ts';
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
  const taken = useTakenAt(judged, role);
  return (
    <dialog
      ref={dialog}
      className="judgement"
      aria-label={`Judgement of unit ${unit}`}
      onClose={onClose}
    >
      <header className="judgement-head">
        <h2>
          What the readings say <span className="unit-key">{unit}</span>
        </h2>
        <p>
          {judged.snapshot === null ? 'as they stand now' : `snapshot “${judged.snapshot.label}”`}
        </p>
        {judgement !== null && <WriteDown unit={unit} judgement={judgement} system={system} />}
        <button type="button" onClick={() => dialog.current?.close()}>
          Close
        </button>
      </header>
      {input === null || judgement === null ? (
        <p>Nothing has been read yet.</p>
      ) : (
        <div className="judgement-body">
          <div>
            {standing !== null && (
              <StandingPart outcome={standing} atmosphere={judged.config.atmosphere.pressure} />
            )}
            <ReadingsPart
              judgement={judgement}
              content={input.content}
              mode={input.config.mode}
              system={system}
            />
            <CyclePart content={input.content} config={input.config} system={system} />
          </div>
          <div>
            <SuspectsPart
              diagnosis={judgement.diagnosis}
              refusals={judgement.refusals}
              hazards={judgement.hazards}
              mode={input.config.mode}
              system={system}
              outcomes={knownOutcomes(asked.outcomes)}
              onOutcomes={(outcomes) => change({ outcomes })}
            />
            <AskedForm
              asked={asked}
              change={change}
              fixed={input.config.metering === 'fixed'}
              typed={isTyped(input.config) ? judged.session : null}
              observations={observationsOf(findings ?? [], unit)}
              references={references}
              chart={Object.keys(input.maker).length > 0}
            />
            <ComparePart unit={unit} input={input} takenAt={taken} others={references.others} />
          </div>
        </div>
      )}
      <p className="judgement-defer">{DEFER}</p>
    </dialog>
  );
}

/** Puts the judgement into the record as a note: what was said, on what, and what to check. */
function WriteDown(p: {
  readonly unit: string;
  readonly judgement: Judgement;
  readonly system: UnitSystem;
}): ReactNode {
  const command = useCommand();
  const { store } = useServices();
  const write = async () => {
    const saved = await command('note.add', { text: noteText(p.unit, p.judgement, p.system) });
    if (saved !== null)
      notify(store, 'info', `Judgement of unit ${p.unit} written into the record.`);
  };
  return (
    <button type="button" className="primary" onClick={() => void write()}>
      Write it down
    </button>
  );
}

/** A judgement as a note of the record. */
export function noteText(unit: string, judgement: Judgement, system: UnitSystem): string {
  const suspects = judgement.diagnosis.suspects
    .slice(0, 4)
    .map((s) => `${SUSPECT_LABEL[s.key]} ${percentText(s.probability)}`);
  const { answer, nextCheck } = judgement.diagnosis;
  const next = answer === 'nothingWrong' ? null : nextCheck;
  return [
    `Unit ${unit}, judgement.`,
    ...judgement.verdicts.map((row) => `${verdictText(row, system)} (${verdictOddsText(row)})`),
    chargeText(judgement.charge, system),
    answerText(judgement.diagnosis, judgement.refusals).title + '.',
    ...(suspects.length === 0 ? [] : [`Suspects: ${suspects.join('; ')}.`]),
    ...(next === null ? [] : [`Check next: ${checkRow(next.check).label}.`]),
  ].join('\n');
}
