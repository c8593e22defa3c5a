import type { ReactNode } from 'react';
import { useReview } from './use-review.ts';

/** Opens a session for replay. */
export function ReviewButton({ session }: { readonly session: string }): ReactNode {
  const review = useReview();
  return (
    <button type="button" onClick={() => void review(session)}>
      Replay
    </button>
  );
}
