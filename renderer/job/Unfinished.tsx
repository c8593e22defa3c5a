import type { ReactNode } from 'react';
import type { SessionRow } from '../../electron/bridge/views.ts';
import { dateText, durationText } from '../app/format.ts';
import { SOURCE_TEXT } from '../app/text.ts';
import { put } from '../store/store.ts';
import { useApp, useCommand, useServices } from '../store/context.ts';

const NONE: readonly SessionRow[] = [];

/** Sessions whose recording broke off: go on with them, or close them as they are. */
export function Unfinished(): ReactNode {
  const sessions = useApp((s) => s.job?.sessions ?? NONE);
  const running = useApp((s) => s.live?.sessionId ?? null);
  const open = sessions.filter((row) => row.unfinished && row.id !== running);
  return open.map((row) => <Offer key={row.id} row={row} />);
}

function Offer({ row }: { readonly row: SessionRow }): ReactNode {
  const command = useCommand();
  const { store } = useServices();
  const resume = async () => {
    const live = await command('session.resume', { session: row.id });
    if (live !== null) put(store, { live, room: 'watch' });
  };
  const seal = async () => {
    const job = await command('session.seal', { session: row.id });
    if (job !== null) put(store, { job });
  };
  return (
    <section className="sheet unfinished" aria-label="Unfinished session">
      <div>
        <h2>A recording broke off</h2>
        <p>
          {SOURCE_TEXT[row.source.kind]}, {row.source.label}, begun {dateText(row.origin)}:{' '}
          {durationText(row.duration_s)} are safe on the disk.
        </p>
      </div>
      <button type="button" className="primary" onClick={() => void resume()}>
        Go on with it
      </button>
      <button type="button" onClick={() => void seal()}>
        Close it as it is
      </button>
    </section>
  );
}
