import { useEffect, type ReactNode } from 'react';
import { dismiss, type Notice } from '../store/store.ts';
import { useApp, useServices } from '../store/context.ts';

const INFO_MS = 6000;

/** Messages at the corner: information goes by itself, warnings and errors stay until dismissed. */
export function Notices(): ReactNode {
  const notices = useApp((s) => s.notices);
  return (
    <div className="notices" aria-live="polite">
      {notices.map((notice) => (
        <NoticeRow key={notice.id} notice={notice} />
      ))}
    </div>
  );
}

function NoticeRow({ notice }: { readonly notice: Notice }): ReactNode {
  const { store } = useServices();
  useEffect(() => {
    if (notice.level !== 'info') return undefined;
    const timer = setTimeout(() => dismiss(store, notice.id), INFO_MS);
    return () => clearTimeout(timer);
  }, [store, notice]);
  return (
    <div
      className="notice"
      data-level={notice.level}
      role={notice.level === 'info' ? 'status' : 'alert'}
    >
      <p>{notice.text}</p>
      <button type="button" onClick={() => dismiss(store, notice.id)}>
        Dismiss
      </button>
    </div>
  );
}
