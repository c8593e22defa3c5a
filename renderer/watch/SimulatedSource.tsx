import { useId, useState, type ReactNode } from 'react';
import type { ScenarioRow } from '../../electron/bridge/views.ts';
import { durationText } from '../app/format.ts';
import { SpeedField } from './SpeedField.tsx';
import { useStart } from './use-start.ts';

/** Starts a session on a virtual unit. */
export function SimulatedSource(p: { readonly scenarios: readonly ScenarioRow[] }): ReactNode {
  const id = useId();
  const [chosen, setChosen] = useState<string | null>(null);
  const [speed, setSpeed] = useState(10);
  const start = useStart();
  const scenario = p.scenarios.find((s) => s.id === chosen) ?? p.scenarios[0];
  if (scenario === undefined) return <p>No scenarios were found.</p>;
  return (
    <div className="source-form">
      <div className="field">
        <label htmlFor={id}>Scenario</label>
        <select id={id} value={scenario.id} onChange={(event) => setChosen(event.target.value)}>
          {p.scenarios.map((s) => (
            <option key={s.id} value={s.id}>
              {s.title}
            </option>
          ))}
        </select>
      </div>
      <p className="scenario">
        {scenario.summary} <b>{durationText(scenario.duration_s)}</b>,{' '}
        {scenario.units.length === 1 ? 'one unit' : `units ${scenario.units.join(' and ')}`}.
      </p>
      <SpeedField speed={speed} onChange={setSpeed} />
      <button
        type="button"
        className="primary"
        onClick={() => void start({ kind: 'simulated', scenario: scenario.id, speed })}
      >
        Watch the simulation
      </button>
    </div>
  );
}
