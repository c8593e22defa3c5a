import { useEffect, useState, type ReactNode } from 'react';
import type { SourceRow } from '../../electron/bridge/views.ts';
import { useCommand } from '../store/context.ts';

/** What can be listened to on this machine, and why not where not. */
export function SensorsScreen(): ReactNode {
  const command = useCommand();
  const [sources, setSources] = useState<readonly SourceRow[]>([]);
  useEffect(() => {
    let gone = false;
    void command('source.list', {}).then((rows) => {
      if (!gone && rows !== null) setSources(rows);
    });
    return () => {
      gone = true;
    };
  }, [command]);
  const radio = sources.find((row) => row.kind === 'radio');
  return (
    <main className="room">
      <div className="page">
        <section className="sheet">
          <h1>Sensors</h1>
          <p>
            {radio?.available === true
              ? radio.hint
              : `No radio in this session’s sources. ${radio?.hint ?? ''}`}
          </p>
        </section>
        <section className="sheet">
          <h2>What this machine can listen to</h2>
          <table>
            <tbody>
              {sources.map((row) => (
                <tr key={row.kind}>
                  <th scope="row">{row.label}</th>
                  <td>{row.available ? 'available' : 'not available'}</td>
                  <td>{row.hint}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </section>
      </div>
    </main>
  );
}
