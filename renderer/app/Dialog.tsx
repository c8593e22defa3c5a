import { useEffect, useRef, type ReactNode } from 'react';

/** A sheet over the room; Escape closes it. */
export function Dialog(p: {
  readonly title: string;
  readonly onClose: () => void;
  readonly children: ReactNode;
}): ReactNode {
  const dialog = useRef<HTMLDialogElement>(null);
  useEffect(() => {
    dialog.current?.showModal();
  }, []);
  return (
    <dialog ref={dialog} className="sheet-dialog" aria-label={p.title} onClose={p.onClose}>
      <header>
        <h2>{p.title}</h2>
        <button type="button" onClick={() => dialog.current?.close()}>
          Close
        </button>
      </header>
      {p.children}
    </dialog>
  );
}
