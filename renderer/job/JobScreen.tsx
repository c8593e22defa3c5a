import { useState, type ReactNode } from 'react';
import { DEFER } from '../app/cautions.ts';
import { put } from '../store/store.ts';
import { useApp, useCommand, useServices } from '../store/context.ts';
import { Findings } from './Findings.tsx';
import { HeadDialog } from './HeadDialog.tsx';
import { JobPicker } from './JobPicker.tsx';
import { Log } from './Log.tsx';
import { Notes } from './Notes.tsx';
import { Sessions } from './Sessions.tsx';
import { Snapshots } from './Snapshots.tsx';
import { Unfinished } from './Unfinished.tsx';
import { Units } from './Units.tsx';
import './job.css';

/** The service record of the open job, or the choice of one. */
export function JobScreen(): ReactNode {
  const open = useApp((s) => s.job !== null);
  return open ? <Record /> : <JobPicker />;
}

function Record(): ReactNode {
  return (
    <main className="room">
      <div className="page record">
        <Head />
        <Unfinished />
        <Units />
        <Snapshots />
        <div className="record-pair">
          <Findings />
          <Notes />
        </div>
        <Sessions />
        <Log />
        <p className="muted">{DEFER}</p>
      </div>
    </main>
  );
}

function Head(): ReactNode {
  const head = useApp((s) => s.job?.head ?? null);
  const file = useApp((s) => s.job?.file ?? '');
  const watching = useApp((s) => s.live !== null);
  const [editing, setEditing] = useState(false);
  const command = useCommand();
  const { store } = useServices();
  const close = async () => {
    await command('job.close', {});
    put(store, { job: null, review: null });
  };
  if (head === null) return null;
  return (
    <section className="sheet record-head" aria-label="Job">
      <div>
        <h1>{head.title}</h1>
        <p>
          {[head.site.name, head.site.address].filter((part) => part !== '').join(', ')}{' '}
          <span className="muted">{file}</span>
        </p>
        <p className="complaint">
          <b>Complaint:</b> {head.complaint === '' ? 'none written down' : head.complaint}
        </p>
      </div>
      <div className="record-actions">
        <button type="button" onClick={() => setEditing(true)}>
          Edit job
        </button>
        <button type="button" disabled={watching} onClick={() => void close()}>
          Close job
        </button>
      </div>
      {editing && <HeadDialog head={head} onClose={() => setEditing(false)} />}
    </section>
  );
}
