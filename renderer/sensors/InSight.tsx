import type { ReactNode } from 'react';
import type { SensorView } from '../../electron/bridge/views.ts';
import { useUnits } from '../store/context.ts';
import { agoText, signalText, valueText } from './sensor-text.ts';
import type { Act } from './use-sensors.ts';

/**
 * What is on the air and not added yet, the nearest first. Where the radio cannot search there is
 * nothing to start or stop.
 */
export function InSight(p: {
  readonly sensors: readonly SensorView[];
  readonly radio: 'unknown' | 'ready' | 'missing';
  readonly scan: boolean;
  readonly onScan: (on: boolean) => void;
  readonly act: Act;
}): ReactNode {
  return (
    <section aria-labelledby="sensors-sight" className="sensor-list">
      <header className="sensor-head">
        <h2 id="sensors-sight">In sight</h2>
        {p.radio === 'ready' && (
          <button type="button" onClick={() => p.onScan(!p.scan)}>
            {p.scan ? 'Stop searching' : 'Search'}
          </button>
        )}
      </header>
      {p.sensors.length === 0 ? (
        <p className="sheet">{emptyText(p.radio, p.scan)}</p>
      ) : (
        <div className="sheet">
          <table>
            <thead>
              <tr>
                <th scope="col">Name</th>
                <th scope="col">Sends</th>
                <th scope="col">Signal</th>
                <th scope="col">Heard</th>
                <th scope="col">
                  <span className="sr">Action</span>
                </th>
              </tr>
            </thead>
            <tbody>
              {p.sensors.map((sensor) => (
                <SightRow key={sensor.id} sensor={sensor} act={p.act} />
              ))}
            </tbody>
          </table>
        </div>
      )}
    </section>
  );
}

function emptyText(radio: 'unknown' | 'ready' | 'missing', scan: boolean): string {
  if (radio === 'missing') return 'Nothing can be heard until Bluetooth works.';
  if (radio === 'unknown') return 'Looking for Bluetooth.';
  return scan ? 'Searching. Nothing new has been heard yet.' : 'Not searching.';
}

function SightRow({ sensor, act }: { readonly sensor: SensorView; readonly act: Act }): ReactNode {
  const system = useUnits();
  const sent = sensor.values.map((value) => valueText(value, system)).join(', ');
  const what = sensor.keyNeeded
    ? 'encrypted broadcasts'
    : sensor.reach === 'broadcast'
      ? sent
      : 'shown once it is added';
  return (
    <tr>
      <th scope="row">
        {sensor.name} <span className="muted">{sensor.id.slice(-4)}</span>
      </th>
      <td>{what}</td>
      <td>{signalText(sensor.rssi_dBm)}</td>
      <td>{agoText(sensor.seenAgo_s)}</td>
      <td className="number">
        <button
          type="button"
          aria-label={`Add ${sensor.name} ${sensor.id.slice(-4)}`}
          onClick={() => void act('sensors.add', { id: sensor.id, name: null })}
        >
          Add
        </button>
      </td>
    </tr>
  );
}
