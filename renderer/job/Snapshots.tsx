import type { ReactNode } from 'react';
import type { Reading } from '../../core/circuit/types.ts';
import type { SnapshotRecord } from '../../core/record/snapshot.ts';
import { dateText, differenceNumber, differenceUnit, fixed } from '../app/format.ts';
import { MARK_TEXT, STATE_TEXT } from '../app/text.ts';
import { JudgeSnapshot } from '../judgement/JudgeButton.tsx';
import { ReviewWords } from '../review/ReviewWords.tsx';
import { useApp, useUnits } from '../store/context.ts';
import { SnapshotNumbers } from './SnapshotNumbers.tsx';

const NONE: readonly SnapshotRecord[] = [];

/** The snapshots of the record: readings with ±, how they came about, and their evidence. */
export function Snapshots(): ReactNode {
  const snapshots = useApp((s) => s.job?.snapshots ?? NONE);
  return (
    <section className="sheet" aria-label="Snapshots">
      <header className="sheet-head">
        <h2>Snapshots</h2>
      </header>
      {snapshots.length === 0 ? (
        <p className="muted">None yet. Take them on Watch, best when the unit is still.</p>
      ) : (
        <ul className="snapshots">
          {snapshots.map((snapshot) => (
            <Row key={snapshot.id} snapshot={snapshot} />
          ))}
        </ul>
      )}
    </section>
  );
}

function Row({ snapshot }: { readonly snapshot: SnapshotRecord }): ReactNode {
  const { content } = snapshot;
  const { superheat, subcooling } = content.figures;
  const marks = new Set([...(superheat?.marks ?? []), ...(subcooling?.marks ?? [])]);
  return (
    <li className="snapshot" data-state={content.state}>
      <div className="snapshot-what">
        <h3>
          <span className="unit-key">{snapshot.unit}</span> {snapshot.label}
        </h3>
        <p>
          {snapshot.sourceKind === 'simulated' && <strong className="tag-sim">SIMULATED</strong>}{' '}
          {dateText(snapshot.takenAt)}
          {snapshot.author === '' ? '' : `, ${snapshot.author}`}
        </p>
      </div>
      <Figure label="Superheat" reading={superheat} />
      <Figure label="Subcooling" reading={subcooling} />
      <p className="snapshot-state">
        <b>{STATE_TEXT[content.state]}</b>
        <span>
          {[...marks]
            .filter((m) => m !== 'simulated')
            .map((m) => MARK_TEXT[m])
            .join(' · ')}
        </span>
      </p>
      <div className="snapshot-more">
        <JudgeSnapshot snapshot={snapshot} />
        <details>
          <summary>
            All its numbers<span className="sr"> of {snapshot.label}</span>
          </summary>
          <SnapshotNumbers content={content} config={snapshot.config} />
          <p className="muted">
            Samples before it: {snapshot.sampleCount}, SHA-256{' '}
            <code title={snapshot.sampleHash}>{snapshot.sampleHash.slice(0, 12)}…</code>, program{' '}
            {snapshot.programVersion}
          </p>
        </details>
      </div>
      <ReviewWords snapshot={snapshot.id} />
    </li>
  );
}

function Figure(p: { readonly label: string; readonly reading: Reading | undefined }): ReactNode {
  const system = useUnits();
  return (
    <p className="snapshot-figure">
      <span>{p.label}</span>
      {p.reading === undefined ? (
        '—'
      ) : (
        <>
          <b>{fixed(differenceNumber(p.reading.value, system), 1)}</b> {differenceUnit(system)}{' '}
          <small>±{fixed(differenceNumber(p.reading.u, system), 1)}</small>
        </>
      )}
    </p>
  );
}
