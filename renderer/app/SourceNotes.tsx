import type { ReactNode } from 'react';

/** What was left out of a source or cannot be used, with its place; nothing where nothing was. */
export function SourceNotes({
  notes,
}: {
  readonly notes?: readonly string[] | undefined;
}): ReactNode {
  if (notes === undefined || notes.length === 0) return null;
  return (
    <ul className="source-notes" aria-label="Notes on the table">
      {notes.map((note) => (
        <li key={note}>{sentence(note)}</li>
      ))}
    </ul>
  );
}

function sentence(note: string): string {
  return `${note.charAt(0).toUpperCase()}${note.slice(1)}.`;
}
