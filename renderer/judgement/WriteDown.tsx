import type { ReactNode } from 'react';
import type { Judgement } from '../../core/checks/running.ts';
import type { UnitSystem } from '../app/format.ts';
import { useCommand, useServices } from '../store/context.ts';
import { notify } from '../store/store.ts';
import { noteText } from './note-text.ts';

/** Puts the judgement into the record as a note: what was said, on what, and what to check. */
export function WriteDown(p: {
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
