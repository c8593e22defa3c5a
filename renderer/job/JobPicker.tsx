import { useCallback, useEffect, useId, useState, type ReactNode } from 'react';
import { say } from '../../electron/bridge/errors.ts';
import type { JobRow } from '../../electron/bridge/views.ts';
import { DEFER } from '../app/cautions.ts';
import { dateText } from '../app/format.ts';
import { notify, put } from '../store/store.ts';
import { useApp, useCommand, useServices } from '../store/context.ts';
import { CreateJob } from './CreateJob.tsx';
import { importFile } from './import-file.ts';

/** The jobs on this machine; a new one; one from elsewhere. */
export function JobPicker(): ReactNode {
  const { rows, refresh } = useJobs();
  const [creating, setCreating] = useState(false);
  const folder = useApp((s) => s.info?.jobsFolder ?? '');
  return (
    <main className="room">
      <div className="page">
        <header className="start-head">
          <h1>Which job?</h1>
          <p>Watch a circuit come to rest, read it when it is still, keep the evidence. {DEFER}</p>
        </header>
        <ul className="ways">
          <li className="sheet">
            <h2>A new call</h2>
            <p>The site, the complaint, the first unit with its nameplate.</p>
            <button type="button" className="primary" onClick={() => setCreating(true)}>
              New job
            </button>
          </li>
          <li className="sheet">
            <h2>Look around</h2>
            <p>A simulated unit in a job of its own, marked SIMULATED everywhere.</p>
            <DemonstrationButton />
          </li>
          <li className="sheet">
            <h2>A colleague’s job</h2>
            <p>A job file from another machine, to review or to go on with.</p>
            <ImportButton onDone={refresh} />
          </li>
        </ul>
        <h2 className="start-list">On this machine</h2>
        {rows !== null && rows.length === 0 ? <p>No jobs yet.</p> : <JobTable rows={rows ?? []} />}
        <p className="muted">Jobs are kept in {folder}</p>
      </div>
      {creating && <CreateJob onClose={() => setCreating(false)} />}
    </main>
  );
}

function useJobs(): { readonly rows: readonly JobRow[] | null; readonly refresh: () => void } {
  const command = useCommand();
  const [rows, setRows] = useState<readonly JobRow[] | null>(null);
  const refresh = useCallback(() => {
    void command('job.list', {}).then(setRows);
  }, [command]);
  useEffect(refresh, [refresh]);
  return { rows, refresh };
}

function JobTable({ rows }: { readonly rows: readonly JobRow[] }): ReactNode {
  const command = useCommand();
  const { store } = useServices();
  const open = async (file: string) => {
    const job = await command('job.open', { file });
    if (job !== null) put(store, { job });
  };
  return (
    <ul className="jobs">
      {rows.map((row) => (
        <li key={row.file} className="sheet job-row" data-refused={row.refused !== null}>
          <div>
            <h2>{row.refused === null ? row.title : row.file}</h2>
            <p>{row.refused ?? (row.site === '' ? 'no site named' : row.site)}</p>
          </div>
          {row.refused === null && (
            <p className="job-counts">
              <span>{dateText(row.modifiedAt)}</span>
              <span>
                {count(row.sessions, 'session')}, {count(row.snapshots, 'snapshot')}
              </span>
            </p>
          )}
          {row.refused === null ? (
            <button type="button" onClick={() => void open(row.file)}>
              Open<span className="sr"> {row.title}</span>
            </button>
          ) : (
            <p>
              <b>Refused</b>, left untouched
            </p>
          )}
        </li>
      ))}
    </ul>
  );
}

function count(n: number, what: string): string {
  return `${n} ${what}${n === 1 ? '' : 's'}`;
}

/** A job to look around in, with nothing real in it. */
function DemonstrationButton(): ReactNode {
  const command = useCommand();
  const { store } = useServices();
  const create = async () => {
    const job = await command('job.create', {
      title: 'Demonstration',
      site: { name: 'No real site', address: '', altitude_m: null },
      complaint: '',
      // The simulated units join the job when they are first watched.
      units: [],
    });
    if (job !== null) put(store, { job, room: 'watch' });
  };
  return (
    <button type="button" onClick={() => void create()}>
      Watch a simulated unit
    </button>
  );
}

function ImportButton({ onDone }: { readonly onDone: () => void }): ReactNode {
  const id = useId();
  const { store, bridge } = useServices();
  const take = async (input: HTMLInputElement) => {
    const file = input.files?.[0];
    if (file === undefined) return;
    const result = await importFile(bridge, file);
    input.value = '';
    if (!result.ok) notify(store, 'error', say(result.error));
    else if (result.value !== null) put(store, { job: result.value });
    onDone();
  };
  return (
    <div className="import">
      <label htmlFor={id}>Job file</label>
      <input
        id={id}
        type="file"
        accept=".stillpoint"
        onChange={(event) => void take(event.currentTarget)}
      />
    </div>
  );
}
