import { useId, useState, type ReactNode } from 'react';
import type { SensorView } from '../../electron/bridge/views.ts';
import { HEALTH_WORD, agoText, signalText } from './sensor-text.ts';
import { SensorMore } from './SensorMore.tsx';
import { ValueRow } from './ValueRow.tsx';
import type { Act } from './use-sensors.ts';

/** One added sensor: how it fares, what it measures, where that goes. */
export function SensorCard(p: { readonly sensor: SensorView; readonly act: Act }): ReactNode {
  const { sensor, act } = p;
  const id = useId();
  return (
    <article className="sheet sensor" aria-label={sensor.name} data-health={sensor.health?.state}>
      <header className="sensor-head">
        <SensorName id={id} sensor={sensor} act={act} />
        {sensor.health !== null && (
          <p className="sensor-health" role="status">
            <strong>{HEALTH_WORD[sensor.health.state]}</strong>
            {sensor.health.state !== 'good' && <span> {sensor.health.tip}</span>}
            {sensor.health.state === 'failed' && (
              <button type="button" onClick={() => void act('sensors.retry', { id: sensor.id })}>
                Try again
              </button>
            )}
          </p>
        )}
      </header>
      <dl className="sensor-facts">
        <Fact term="Battery" text={batteryText(sensor.battery_percent)} />
        <Fact term="Signal" text={signalText(sensor.rssi_dBm)} />
        <Fact term="Heard" text={agoText(sensor.seenAgo_s)} />
        <Fact term="By" text={sensor.reach === 'link' ? 'its own link' : 'broadcasts'} />
        {Object.entries(sensor.info).map(([term, text]) => (
          <Fact key={term} term={capital(term)} text={text} />
        ))}
      </dl>
      {sensor.values.length === 0 ? (
        <p className="muted">What it measures is shown as soon as it has been reached.</p>
      ) : (
        <table className="sensor-values">
          <thead>
            <tr>
              <th scope="col">Measures</th>
              <th scope="col" className="number">
                Now
              </th>
              <th scope="col">Age</th>
              <th scope="col">Goes to</th>
              <th scope="col">Zero</th>
            </tr>
          </thead>
          <tbody>
            {sensor.values.map((value) => (
              <ValueRow key={value.key} sensor={sensor} value={value} act={act} />
            ))}
          </tbody>
        </table>
      )}
      <SensorMore sensor={sensor} act={act} />
    </article>
  );
}

function Fact(p: { readonly term: string; readonly text: string }): ReactNode {
  return (
    <div>
      <dt>{p.term}</dt>
      <dd>{p.text}</dd>
    </div>
  );
}

const batteryText = (percent: number | null): string =>
  percent === null ? 'unknown' : `${percent} %`;
const capital = (word: string): string => word.charAt(0).toUpperCase() + word.slice(1);

/** The name, which a person may change where it stands. */
function SensorName(p: {
  readonly id: string;
  readonly sensor: SensorView;
  readonly act: Act;
}): ReactNode {
  const [draft, setDraft] = useState<string | null>(null);
  const save = () => {
    const name = draft?.trim() ?? '';
    setDraft(null);
    if (name !== '' && name !== p.sensor.name) {
      void p.act('sensors.rename', { id: p.sensor.id, name });
    }
  };
  if (draft === null) {
    return (
      <h3>
        {p.sensor.name}{' '}
        <button
          type="button"
          className="quiet"
          aria-label={`Rename ${p.sensor.name}`}
          onClick={() => setDraft(p.sensor.name)}
        >
          Rename
        </button>
      </h3>
    );
  }
  return (
    <form
      className="sensor-rename"
      onSubmit={(event) => {
        event.preventDefault();
        save();
      }}
    >
      <label htmlFor={p.id}>Name</label>
      <input
        id={p.id}
        value={draft}
        maxLength={80}
        autoFocus
        onChange={(event) => setDraft(event.target.value)}
        onKeyDown={(event) => {
          if (event.key === 'Escape') setDraft(null);
        }}
      />
      <button type="submit">Save</button>
    </form>
  );
}
