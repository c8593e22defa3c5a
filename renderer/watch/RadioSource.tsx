import type { ReactNode } from 'react';
import { put } from '../store/store.ts';
import { useApp, useServices } from '../store/context.ts';
import { useSensors } from '../sensors/use-sensors.ts';
import { useStart } from './use-start.ts';

/** Starts a session on the sensors in the air, or says what stands in the way and what to do. */
export function RadioSource(): ReactNode {
  const { store } = useServices();
  const units = useApp((s) => s.job?.units ?? null) ?? [];
  const { view } = useSensors(false);
  const start = useStart();
  const assigned =
    view?.sensors.some((sensor) =>
      sensor.values.some(({ assigned: to }) => units.some((u) => u.key === to?.unit)),
    ) === true;
  if (view === null || view.alert !== null) {
    return (
      <div className="source-form">
        <p role="status">{view?.alert?.tip ?? 'Looking for Bluetooth.'}</p>
        <button type="button" disabled>
          Listen to the sensors
        </button>
      </div>
    );
  }
  if (!assigned) {
    return (
      <div className="source-form">
        <p>No sensor is assigned to a unit of this job yet.</p>
        <button type="button" className="primary" onClick={() => put(store, { room: 'sensors' })}>
          Find and assign sensors
        </button>
      </div>
    );
  }
  return (
    <div className="source-form">
      <button type="button" className="primary" onClick={() => void start({ kind: 'radio' })}>
        Listen to the sensors
      </button>
    </div>
  );
}
