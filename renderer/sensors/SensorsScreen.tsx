import { useState, type ReactNode } from 'react';
import { CONNECTING, DEFER } from '../app/cautions.ts';
import { Cautions } from '../app/Cautions.tsx';
import { useUnits } from '../store/context.ts';
import { InSight } from './InSight.tsx';
import { SensorCard } from './SensorCard.tsx';
import { swapText } from './sensor-text.ts';
import { useSensors } from './use-sensors.ts';
import './sensors.css';

/** Finds, names, assigns and checks the sensors on the air. */
export function SensorsScreen(): ReactNode {
  const [scan, setScan] = useState(true);
  const { view, act } = useSensors(scan);
  const system = useUnits();
  const added = view?.sensors.filter((s) => s.remembered) ?? [];
  const strangers = view?.sensors.filter((s) => !s.remembered) ?? [];
  const radio = view === null ? 'unknown' : view.alert === null ? 'ready' : 'missing';
  return (
    <main className="room">
      <div className="page">
        <h1>Sensors</h1>
        <Cautions lines={[DEFER, ...CONNECTING]} />
        {view !== null && view.problem !== null && (
          <p className="sheet sensor-alert">{view.problem}</p>
        )}
        {view !== null && view.alert !== null && (
          <p className="sheet sensor-alert" role="status" data-code={view.alert.code}>
            {view.alert.tip}
          </p>
        )}
        {view?.questions.map((q) => (
          <p key={`${q.unit} ${q.code}`} className="sheet sensor-question" role="status">
            {swapText(q, system)}
          </p>
        ))}
        <section aria-labelledby="sensors-added" className="sensor-list">
          <h2 id="sensors-added">Your sensors</h2>
          {added.length === 0 && (
            <p className="sheet">
              {radio === 'missing'
                ? 'None yet.'
                : 'None yet. Switch a sensor on, add it from the list below, and assign what it measures.'}
            </p>
          )}
          {added.map((sensor) => (
            <SensorCard key={sensor.id} sensor={sensor} act={act} />
          ))}
        </section>
        <InSight sensors={strangers} radio={radio} scan={scan} onScan={setScan} act={act} />
      </div>
    </main>
  );
}
