import { meanAtRest } from '../../core/steadiness/rest.ts';
import { useEffect, useState, type ReactNode } from 'react';
import { differenceText } from '../app/format.ts';
import { useCommand, useEngine, useServices, useUnits } from '../store/context.ts';
import { notify } from '../store/store.ts';
import { useOnlyTyped } from '../store/typed.ts';

const LABELS = ['Before', 'After', 'Other'] as const;
type Label = (typeof LABELS)[number];

/** Writes the readings of the present window into the record. Key S. */
export function SnapshotBar({ unit }: { readonly unit: string }): ReactNode {
  const [label, setLabel] = useState<Label>('Before');
  const [other, setOther] = useState('');
  const take = useTake(unit, label === 'Other' && other.trim() !== '' ? other.trim() : label);
  const typed = useOnlyTyped('live', unit);
  const off = useEngine('live', unit, (s) => s.steadiness.state === 'idle' && !typed) === true;
  const rest = useEngine('live', unit, (s) => meanAtRest(s.steadiness)) === true;
  useSnapshotKey(take);
  return (
    <div className="snapshot-bar">
      <div
        className="switch"
        role="radiogroup"
        aria-label={`Label of the snapshot of unit ${unit}`}
      >
        {LABELS.map((text) => (
          <button
            key={text}
            type="button"
            role="radio"
            aria-checked={text === label}
            onClick={() => setLabel(text)}
          >
            {text}
          </button>
        ))}
      </div>
      {label === 'Other' && (
        <input
          aria-label="Words of the label"
          maxLength={200}
          placeholder="in your words"
          value={other}
          onChange={(event) => setOther(event.target.value)}
        />
      )}
      <button type="button" className="primary" onClick={() => void take()} aria-keyshortcuts="S">
        Take snapshot <kbd>S</kbd>
        {!rest && <small>{off ? 'marked: unit off' : 'marked: not at rest'}</small>}
      </button>
    </div>
  );
}

function useTake(unit: string, label: string): () => Promise<void> {
  const command = useCommand();
  const { store } = useServices();
  const system = useUnits();
  return async () => {
    const record = await command('snapshot.take', { unit, label, note: '' });
    if (record === null) return;
    const { superheat, subcooling } = record.content.figures;
    const parts = [
      superheat && `superheat ${differenceText(superheat.value, system)}`,
      subcooling && `subcooling ${differenceText(subcooling.value, system)}`,
    ].filter((part) => part !== undefined);
    notify(store, 'info', `Snapshot of unit ${unit} kept (${label}): ${parts.join(', ')}.`);
  };
}

/** S takes the snapshot, unless something is being typed. */
function useSnapshotKey(take: () => Promise<void>): void {
  useEffect(() => {
    const onKey = (event: KeyboardEvent) => {
      const target = event.target;
      const typing =
        target instanceof HTMLElement && target.closest('input, select, textarea, dialog') !== null;
      if (typing || event.repeat || event.ctrlKey || event.altKey || event.metaKey) return;
      if (event.key.toLowerCase() === 's') void take();
    };
    window.addEventListener('keydown', onKey);
    return () => window.removeEventListener('keydown', onKey);
  }, [take]);
}
