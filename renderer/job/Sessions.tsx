import type { ReactNode } from 'react';
import { dateText, durationText } from '../app/format.ts';
import { SourceNotes } from '../app/SourceNotes.tsx';
import { SOURCE_TEXT } from '../app/text.ts';
import type { SessionRow } from '../../electron/bridge/views.ts';
import { useApp } from '../store/context.ts';
import { ReviewButton } from '../review/ReviewButton.tsx';

const NONE: readonly SessionRow[] = [];

/** Everything that was recorded in this job. */
export function Sessions(): ReactNode {
  const sessions = useApp((s) => s.job?.sessions ?? NONE);
  const running = useApp((s) => s.live?.sessionId ?? null);
  if (sessions.length === 0) return null;
  return (
    <section className="sheet" aria-label="Sessions">
      <header className="sheet-head">
        <h2>Sessions</h2>
      </header>
      <table>
        <thead>
          <tr>
            <th scope="col">Begun</th>
            <th scope="col">Source</th>
            <th scope="col">Units</th>
            <th scope="col" className="number">
              Length
            </th>
            <th scope="col" className="number">
              Samples
            </th>
            <th scope="col">
              <span className="sr">Replay</span>
            </th>
          </tr>
        </thead>
        <tbody>
          {sessions.map((row) => (
            <tr key={row.id}>
              <td>{dateText(row.origin)}</td>
              <td>
                {row.source.kind === 'simulated' ? (
                  <strong className="tag-sim">SIMULATED</strong>
                ) : (
                  SOURCE_TEXT[row.source.kind]
                )}{' '}
                {row.source.label}
                <SourceNotes notes={row.source.notes} />
              </td>
              <td>{row.units.map((u) => u.unit).join(', ')}</td>
              <td className="number">{durationText(row.duration_s)}</td>
              <td className="number">{row.samples.toLocaleString()}</td>
              <td className="number">
                {row.id === running ? 'recording' : <ReviewButton session={row.id} />}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}
