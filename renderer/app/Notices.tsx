import type { ReactNode } from 'react';
import { dismiss, type Notice } from '../store/store.ts';
import { useApp, useServices } from '../store/context.ts';

/** Messages, the newest last. */
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
