import { useEffect, useState, type ReactNode } from 'react';
import type { ScenarioRow, SourceRow } from '../../electron/bridge/views.ts';
import { CONNECTING, DEFER, flammableCaution } from '../app/cautions.ts';
import { Cautions } from '../app/Cautions.tsx';
import { refrigerant } from '../../core/refrigerant/refrigerants.ts';
import { put } from '../store/store.ts';
import { useApp, useCommand, useServices } from '../store/context.ts';
import { CsvSource } from './CsvSource.tsx';
import { ManualSource } from './ManualSource.tsx';
import { RadioSource } from './RadioSource.tsx';
import { SimulatedSource } from './SimulatedSource.tsx';
import { offered } from './source-order.ts';
import './picker.css';

/** Chooses where the samples of the next session come from. */
export function SourcePicker(): ReactNode {
  const { store } = useServices();
  const job = useApp((s) => s.job);
  const { sources, scenarios } = useSources();
  if (job === null) {
    return (
      <main className="room">
        <div className="page sheet">
          <h1>Watch</h1>
          <p>A session is kept in a job. Open or create one first.</p>
          <div>
            <button type="button" className="primary" onClick={() => put(store, { room: 'job' })}>
              Go to the jobs
            </button>
          </div>
        </div>
      </main>
    );
  }
  return (
    <main className="room">
      <div className="page">
        <h1>What do you want to watch?</h1>
        <JobCautions />
        <div className="picker">
          {offered(sources, job).map((row) => (
            <section key={row.kind} className="sheet source" data-kind={row.kind}>
              <header>
                <h2>{row.label}</h2>
                <p className="muted">{row.hint}</p>
              </header>
              <SourceForm row={row} scenarios={scenarios} />
            </section>
          ))}
        </div>
      </div>
    </main>
  );
}

function useSources(): {
  readonly sources: readonly SourceRow[];
  readonly scenarios: readonly ScenarioRow[];
} {
  const command = useCommand();
  const [sources, setSources] = useState<readonly SourceRow[]>([]);
  const [scenarios, setScenarios] = useState<readonly ScenarioRow[]>([]);
  useEffect(() => {
    let gone = false;
    const ask = async () => {
      const rows = await command('source.list', {});
      const list = await command('scenario.list', {});
      if (gone) return;
      setSources(rows ?? []);
      setScenarios(list ?? []);
    };
    void ask();
    return () => {
      gone = true;
    };
  }, [command]);
  return { sources, scenarios };
}

function SourceForm(p: {
  readonly row: SourceRow;
  readonly scenarios: readonly ScenarioRow[];
}): ReactNode {
  if (!p.row.available) return <p>Not available on this machine.</p>;
  switch (p.row.kind) {
    case 'simulated':
      return <SimulatedSource scenarios={p.scenarios} />;
    case 'file':
      return <CsvSource />;
    case 'manual':
      return <ManualSource />;
    case 'radio':
      return <RadioSource />;
    case 'replay':
      return null;
  }
}

function JobCautions(): ReactNode {
  const units = useApp((s) => s.job?.units ?? null) ?? [];
  const burning = units
    .map((u) => flammableCaution(refrigerant(u.refrigerant).safetyClass))
    .filter((line) => line !== null);
  return <Cautions lines={[DEFER, ...new Set(burning), ...CONNECTING]} />;
}
