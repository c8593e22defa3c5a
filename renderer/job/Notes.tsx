import { useState, type ReactNode, type SyntheticEvent } from 'react';
import type { Note } from '../../core/record/job.ts';
import { TextField } from '../app/Field.tsx';
import { dateText } from '../app/format.ts';
import { put } from '../store/store.ts';
import { useApp, useCommand, useServices } from '../store/context.ts';

const NONE: readonly Note[] = [];

/** Free notes of the record. */
export function Notes(): ReactNode {
  const notes = useApp((s) => s.job?.notes ?? NONE);
  const command = useCommand();
  const { store } = useServices();
  const [text, setText] = useState('');
  const [error, setError] = useState<string | undefined>(undefined);
  const submit = async (event: SyntheticEvent) => {
    event.preventDefault();
    const empty = text.trim() === '';
    setError(empty ? 'Write something first.' : undefined);
    if (empty) return;
    const job = await command('note.add', { text: text.trim() });
    if (job === null) return;
    put(store, { job });
    setText('');
  };
  return (
    <section className="sheet" aria-label="Notes">
      <header className="sheet-head">
        <h2>Notes</h2>
      </header>
      <ul className="entries">
        {notes.map((note) => (
          <li key={note.id}>
            <p className="note-text">{note.text}</p>
            <p className="muted">
              {dateText(note.at)} {note.author}
            </p>
          </li>
        ))}
      </ul>
      <form className="add" onSubmit={(event) => void submit(event)}>
        <TextField rows={3} label="Note" value={text} onChange={setText} error={error} />
        <button type="submit">Add note</button>
      </form>
    </section>
  );
}
