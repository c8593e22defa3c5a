import type { ReactNode } from 'react';
import type { Judgement } from '../../core/checks/running.ts';
import type { Mode } from '../../core/circuit/types.ts';
import { useCommand, useServices, useUnits } from '../store/context.ts';
import { notify } from '../store/store.ts';
import { noteText } from './note-text.ts';

/** Puts the judgement into the record as a note: what was said, on what, and what to check. */
export function WriteDown(p: {
  readonly unit: string;
  readonly judgement: Judgement;
  readonly mode: Mode;
  /** The lines of the standing check; none of a unit that runs. */
  readonly standing: readonly string[];
}): ReactNode {
  const command = useCommand();
  const system = useUnits();
  const { store } = useServices();
  const write = async () => {
    const text = noteText(p.unit, p.judgement, p.mode, system, p.standing);
    const saved = await command('note.add', { text });
    if (saved !== null)
      notify(store, 'info', `Judgement of unit ${p.unit} written into the record.`);
  };
  return (
    <button type="button" className="primary" onClick={() => void write()}>
      Write it down
    </button>
  );
}
