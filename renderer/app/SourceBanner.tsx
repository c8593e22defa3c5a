import type { ReactNode } from 'react';
import { useApp } from '../store/context.ts';
import { HEALTH_TEXT, SOURCE_TEXT } from './text.ts';

/** Where the numbers on the screen come from, and how that source fares. Simulated is shouted. */
export function SourceBanner(): ReactNode {
  const role = useApp((s) => (s.room === 'review' ? 'review' : 'live'));
  const kind = useApp((s) => s[role]?.source.kind ?? null);
  const label = useApp((s) => s[role]?.source.label ?? '');
  const health = useApp((s) => s[role]?.health ?? null);
  // A session that is hurried skips pictures by its nature; of one in its own time it is told.
  const overflow =
    useApp((s) => ((s[role]?.playback?.speed ?? 1) > 1 ? 0 : s[role]?.overflow)) ?? 0;
  const notes = useApp((s) => s[role]?.source.notes?.length ?? 0);
  if (kind === null) return <div />;
  return (
    <div className="source-banner" data-kind={kind} role="status">
      <strong>{SOURCE_TEXT[kind]}</strong>
      {label !== SOURCE_TEXT[kind] && (
        <span>
          {label}
          {kind === 'simulated' ? ' · invented numbers, no real unit' : ''}
        </span>
      )}
      {health !== null && <span>{HEALTH_TEXT[health.state]}</span>}
      {health !== null && health.alert !== null && <span>{health.alert.tip}</span>}
      {notes > 0 && (
        <span>
          {notes === 1 ? '1 note' : `${notes} notes`} on what was read, under Sessions in the Job
          room
        </span>
      )}
      {overflow > 0 && (
        <span>slow screen: {overflow} updates skipped here, none in the record</span>
      )}
    </div>
  );
}
