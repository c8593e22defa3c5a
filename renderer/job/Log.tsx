import type { ReactNode } from 'react';
import type { LogEntry } from '../../core/record/job.ts';
import { dateText } from '../app/format.ts';
import { useApp } from '../store/context.ts';

const NONE: readonly LogEntry[] = [];

/** Who changed what when: written by the program, never changed. */
export function Log(): ReactNode {
  const log = useApp((s) => s.job?.log ?? NONE);
  return (
    <section className="sheet" aria-label="Log">
      <details>
        <summary>
          <h2>Log</h2>{' '}
          <span className="muted">
            {log.length === 1 ? '1 entry' : `${log.length} entries, newest first`}
          </span>
        </summary>
        <table>
          <thead>
            <tr>
              <th scope="col">When</th>
              <th scope="col">Who</th>
              <th scope="col">What</th>
              <th scope="col">Detail</th>
            </tr>
          </thead>
          <tbody>
            {[...log].reverse().map((entry, i) => (
              <tr key={log.length - i}>
                <td>{dateText(entry.at)}</td>
                <td>{entry.author}</td>
                <td>{entry.what}</td>
                <td>
                  <code>{detailText(entry.detail)}</code>
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </details>
    </section>
  );
}

const LONGEST = 160;

function detailText(detail: unknown): string {
  if (detail === null || detail === undefined) return '';
  const text = typeof detail === 'string' ? detail : JSON.stringify(detail);
  return text.length > LONGEST ? `${text.slice(0, LONGEST)}…` : text;
}
