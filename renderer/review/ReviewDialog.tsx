import { useState, type ReactNode } from 'react';
import type { SnapshotReview } from '../../core/record/review.ts';
import type { SnapshotRecord } from '../../core/record/snapshot.ts';
import { Dialog } from '../app/Dialog.tsx';
import { TextField } from '../app/Field.tsx';
import { clockText, differenceText } from '../app/format.ts';
import { SourceNotes } from '../app/SourceNotes.tsx';
import { STATE_TEXT } from '../app/text.ts';
import { put } from '../store/store.ts';
import { useSteer } from '../store/steer.ts';
import { useApp, useCommand, useServices, useUnits } from '../store/context.ts';
import { ReviewWords } from './ReviewWords.tsx';

const NO_SNAPSHOTS: readonly SnapshotRecord[] = [];

/** A reviewer's word on the snapshots of the replayed session, beside what was recorded. */
export function ReviewDialog({ onClose }: { readonly onClose: () => void }): ReactNode {
  const session = useApp((s) => s.review?.sessionId ?? null);
  const notes = useApp((s) => s.review?.source.notes);
  const author = useApp((s) => s.settings.author);
  const all = useApp((s) => s.job?.snapshots ?? NO_SNAPSHOTS);
  const snapshots = all.filter((s) => s.sessionId === session);
  return (
    <Dialog title="Accept or query" onClose={onClose}>
      <div className="verify">
        <SourceNotes notes={notes} />
        {snapshots.length === 0 ? (
          <p>No snapshot was taken in this session.</p>
        ) : (
          <p>
            Your word is kept in the record beside the snapshot; what the technician recorded stays
            as it is.
            {author === '' && ' Your name is not set yet: it belongs beside your word.'}
          </p>
        )}
        <ul className="reviewed">
          {snapshots.map((snapshot) => (
            <Snapshot key={snapshot.id} snapshot={snapshot} onClose={onClose} />
          ))}
        </ul>
      </div>
    </Dialog>
  );
}

function Snapshot(p: {
  readonly snapshot: SnapshotRecord;
  readonly onClose: () => void;
}): ReactNode {
  const { snapshot } = p;
  const system = useUnits();
  const steer = useSteer('review');
  const { superheat, subcooling } = snapshot.content.figures;
  const at = snapshot.content.window.to;
  const parts = [
    STATE_TEXT[snapshot.content.state],
    superheat && `superheat ${differenceText(superheat.value, system)}`,
    subcooling && `subcooling ${differenceText(subcooling.value, system)}`,
  ].filter((part) => part !== undefined);
  const show = async () => {
    await steer({ do: 'pause' });
    await steer({ do: 'seek', position: at });
    p.onClose();
  };
  return (
    <li>
      <div className="reviewed-what">
        <h3>
          <span className="unit-key">{snapshot.unit}</span> {snapshot.label} at {clockText(at)}
        </h3>
        <p>{parts.join(', ')}</p>
        <button type="button" className="quiet" onClick={() => void show()}>
          See it in the replay
        </button>
      </div>
      <ReviewWords snapshot={snapshot.id} />
      <Say snapshot={snapshot} />
    </li>
  );
}

function Say({ snapshot }: { readonly snapshot: SnapshotRecord }): ReactNode {
  const command = useCommand();
  const { store } = useServices();
  const [text, setText] = useState('');
  const [error, setError] = useState<string | undefined>(undefined);
  const say = async (verdict: SnapshotReview['verdict']) => {
    const missing = verdict === 'queried' && text.trim() === '';
    setError(missing ? 'Say what you query: the technician must know.' : undefined);
    if (missing) return;
    const job = await command('snapshot.review', {
      snapshot: snapshot.id,
      verdict,
      text: text.trim(),
    });
    if (job === null) return;
    put(store, { job });
    setText('');
  };
  return (
    <div className="reviewed-say">
      <TextField
        label={`Your remark on ${snapshot.label}`}
        value={text}
        error={error}
        onChange={setText}
      />
      <button type="button" onClick={() => void say('accepted')}>
        Accept<span className="sr"> {snapshot.label}</span>
      </button>
      <button type="button" onClick={() => void say('queried')}>
        Query<span className="sr"> {snapshot.label}</span>
      </button>
    </div>
  );
}
