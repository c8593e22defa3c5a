import { useId, useRef, useState, type ReactNode } from 'react';
import { say } from '../../electron/bridge/errors.ts';
import type { CsvSummary } from '../../electron/bridge/views.ts';
import { CHANNELS, isChannelKey } from '../../core/stream/channels.ts';
import { durationText } from '../app/format.ts';
import { SourceNotes } from '../app/SourceNotes.tsx';
import { useApp, useServices } from '../store/context.ts';
import { loadTable } from './load-table.ts';
import { SpeedField } from './SpeedField.tsx';
import { UnitField } from './UnitField.tsx';
import { useStart } from './use-start.ts';

/** Starts a session from a logged table. A refusal names line and column and stays in view. */
export function CsvSource(): ReactNode {
  const id = useId();
  const { bridge } = useServices();
  const first = useApp((s) => s.job?.units[0]?.key ?? '');
  const [unit, setUnit] = useState(first);
  const [speed, setSpeed] = useState(60);
  const [table, setTable] = useState<CsvSummary | null>(null);
  const [refusal, setRefusal] = useState<string | null>(null);
  /** The share of the table that has been handed over while it is under way. */
  const [sent, setSent] = useState<number | null>(null);
  const chosen = useRef<File | undefined>(undefined);
  const start = useStart();
  const choose = async (file: File | undefined) => {
    setTable(null);
    setRefusal(null);
    setSent(null);
    chosen.current = file;
    if (file === undefined) return;
    const wanted = () => chosen.current === file;
    const result = await loadTable(bridge, file, wanted, setSent);
    if (result === null || !wanted()) return;
    setSent(null);
    if (result.ok) setTable(result.value);
    else setRefusal(say(result.error));
  };
  return (
    <div className="source-form">
      <div className="field">
        <label htmlFor={id}>Table (CSV)</label>
        <input
          id={id}
          type="file"
          accept=".csv,.txt,.tsv,text/csv,text/plain"
          aria-invalid={refusal !== null}
          onChange={(event) => void choose(event.target.files?.[0])}
        />
      </div>
      {refusal !== null && (
        <p className="field-error" role="alert">
          {refusal.replace(/[.\s]*$/, '.')} Nothing was imported.
        </p>
      )}
      {sent !== null && <p role="status">Reading the table: {Math.floor(100 * sent)} %</p>}
      {table !== null && (
        <p>
          {table.rows} rows over {durationText(table.duration_s)}:{' '}
          {table.channels.map((c) => (isChannelKey(c) ? CHANNELS[c].label : c)).join(', ')}.
        </p>
      )}
      {table !== null && <SourceNotes notes={table.notes} />}
      <UnitField unit={unit} onChange={setUnit} />
      <SpeedField speed={speed} onChange={setSpeed} />
      <button
        type="button"
        className="primary"
        disabled={table === null || unit === ''}
        onClick={() => table !== null && void start({ kind: 'file', csv: table.id, unit, speed })}
      >
        Watch the table
      </button>
    </div>
  );
}
