import type { ReactNode } from 'react';
import type { SnapshotReview } from '../../core/record/review.ts';
import { dateText } from '../app/format.ts';
import { useApp } from '../store/context.ts';
import './review-words.css';

const NONE: readonly SnapshotReview[] = [];
const VERDICT_TEXT: Record<SnapshotReview['verdict'], string> = {
  accepted: 'Accepted',
  queried: 'Queried',
};

/** What reviewers said of a snapshot, the last word first. */
export function ReviewWords({ snapshot }: { readonly snapshot: string }): ReactNode {
  const all = useApp((s) => s.job?.reviews ?? NONE);
  const words = all.filter((review) => review.snapshot === snapshot).reverse();
  if (words.length === 0) return null;
  return (
    <ul className="review-words" aria-label="Said in review">
      {words.map(({ id, verdict, text, at, author }) => (
        <li key={id} data-verdict={verdict}>
          <b>{VERDICT_TEXT[verdict]}</b>
          {text === '' ? '' : `: ${text}`}{' '}
          <span className="muted">
            {dateText(at)}
            {author === '' ? '' : `, ${author}`}
          </span>
        </li>
      ))}
    </ul>
  );
}
