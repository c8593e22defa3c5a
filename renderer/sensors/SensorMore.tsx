import { useId, useRef, useState, type ReactNode } from 'react';
import type { SensorView } from '../../electron/bridge/views.ts';
import type { Act } from './use-sensors.ts';

interface MoreProps {
  readonly sensor: SensorView;
  readonly act: Act;
}

/** The rarer settings of a sensor: its key, its description, forgetting it. */
export function SensorMore({ sensor, act }: MoreProps): ReactNode {
  return (
    <details className="sensor-more">
      <summary>Key, description, forget</summary>
      <div className="sensor-more-body">
        <p className="muted">
          {sensor.id}
          {sensor.heardAs === null ? '' : ` · calls itself ${sensor.heardAs}`}
          {sensor.refusal === null ? '' : ` · last packet refused: ${sensor.refusal}`}
        </p>
        {sensor.reach === 'broadcast' && <KeyField sensor={sensor} act={act} />}
        <DescriptionField sensor={sensor} act={act} />
        <Forget sensor={sensor} act={act} />
      </div>
    </details>
  );
}

function KeyField({ sensor, act }: MoreProps): ReactNode {
  const id = useId();
  const [text, setText] = useState('');
  const isRight = /^[0-9a-fA-F]{32}$/.test(text.trim());
  return (
    <form
      className="field"
      onSubmit={(event) => {
        event.preventDefault();
        void act('sensors.secret', { id: sensor.id, bindKey: text.trim() }).then((accepted) => {
          if (accepted) setText('');
        });
      }}
    >
      <label htmlFor={id}>Key of its encrypted broadcasts</label>
      <input
        id={id}
        value={text}
        autoComplete="off"
        spellCheck={false}
        placeholder={sensor.hasKey ? 'a key is stored' : ''}
        aria-invalid={text !== '' && !isRight}
        onChange={(event) => setText(event.target.value)}
      />
      <p className="field-hint">32 hexadecimal digits. It stays on this machine.</p>
      <div className="sensor-actions">
        <button type="submit" disabled={!isRight}>
          Store the key
        </button>
        {sensor.hasKey && (
          <button
            type="button"
            onClick={() => void act('sensors.secret', { id: sensor.id, bindKey: null })}
          >
            Remove the key
          </button>
        )}
      </div>
    </form>
  );
}

function DescriptionField({ sensor, act }: MoreProps): ReactNode {
  const id = useId();
  const input = useRef<HTMLInputElement>(null);
  const load = async (file: File | undefined) => {
    if (file === undefined) return;
    await act('sensors.describe', { id: sensor.id, text: await file.text() });
    if (input.current !== null) input.current.value = '';
  };
  return (
    <div className="field">
      <label htmlFor={id}>Description file</label>
      <input
        id={id}
        ref={input}
        type="file"
        accept="application/json,.json"
        onChange={(event) => void load(event.target.files?.[0])}
      />
      <p className="field-hint">
        {sensor.description === null
          ? 'For a sensor that speaks no open standard: a JSON file that says how its bytes are read.'
          : `Read by the description “${sensor.description}”.`}
      </p>
      {sensor.description !== null && (
        <div className="sensor-actions">
          <button
            type="button"
            onClick={() => void act('sensors.describe', { id: sensor.id, text: null })}
          >
            Remove the description
          </button>
        </div>
      )}
    </div>
  );
}

function Forget({ sensor, act }: MoreProps): ReactNode {
  const [asking, setAsking] = useState(false);
  if (!asking) {
    return (
      <div className="sensor-actions">
        <button type="button" aria-label={`Forget ${sensor.name}`} onClick={() => setAsking(true)}>
          Forget this sensor
        </button>
      </div>
    );
  }
  return (
    <div className="sensor-actions" role="group" aria-label={`Forget ${sensor.name}`}>
      <p>Its name, assignments, zero and key go; recorded samples stay.</p>
      <button type="button" autoFocus onClick={() => void act('sensors.forget', { id: sensor.id })}>
        Forget it
      </button>
      <button type="button" onClick={() => setAsking(false)}>
        Keep it
      </button>
    </div>
  );
}
