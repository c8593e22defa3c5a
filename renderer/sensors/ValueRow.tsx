import { pressureDifferenceText } from '../../core/diagnosis/format.ts';
import { useState, type ReactNode } from 'react';
import { quantityFits } from '../../core/radio/sensor-value.ts';
import { CHANNEL_KEYS, channelRow, isChannelKey } from '../../core/stream/channels.ts';
import type { SensorValueView, SensorView } from '../../electron/bridge/views.ts';
import { dateText } from '../app/format.ts';
import { useApp, useUnits } from '../store/context.ts';
import { agoText, REFERENCE_TEXT, valueText } from './sensor-text.ts';
import type { Act } from './use-sensors.ts';

interface RowProps {
  readonly sensor: SensorView;
  readonly value: SensorValueView;
  readonly act: Act;
}

/** One value of a sensor: what it reads, which channel it feeds, its zero. */
export function ValueRow({ sensor, value, act }: RowProps): ReactNode {
  const system = useUnits();
  const isPressure = value.quantity === 'pressure';
  return (
    <tr>
      <th scope="row">{value.label}</th>
      <td className="number">{valueText(value, system)}</td>
      <td>{agoText(value.ago_s)}</td>
      <td>
        <div className="sensor-assign">
          {isPressure && <ReferenceField sensor={sensor} value={value} act={act} />}
          <ChannelField sensor={sensor} value={value} act={act} />
        </div>
      </td>
      <td>{isPressure && <ZeroField sensor={sensor} value={value} act={act} />}</td>
    </tr>
  );
}

/** Bluetooth does not say what a pressure counts from: a person does. */
function ReferenceField({ sensor, value, act }: RowProps): ReactNode {
  return (
    <select
      aria-label={`${value.label}: gauge or absolute`}
      value={value.reference ?? ''}
      onChange={(event) => {
        const { value: chosen } = event.target;
        const reference = chosen === 'gauge' || chosen === 'absolute' ? chosen : null;
        const to = reference === null ? null : value.assigned;
        void act('sensors.assign', { id: sensor.id, key: value.key, to, reference });
      }}
    >
      <option value="">gauge or absolute?</option>
      <option value="gauge">{REFERENCE_TEXT.gauge}</option>
      <option value="absolute">{REFERENCE_TEXT.absolute}</option>
    </select>
  );
}

function ChannelField({ sensor, value, act }: RowProps): ReactNode {
  const job = useApp((s) => s.job);
  const units = job?.units ?? [];
  const assigned = value.assigned;
  const keys = CHANNEL_KEYS.filter((key) => quantityFits(value.quantity, key));
  const known = new Set(units.map((u) => u.key));
  const isWaiting = value.quantity === 'pressure' && value.reference === null;
  const shown = [
    ...units.map((u) => ({ key: u.key, name: `Unit ${u.key} ${u.name}`.trim() })),
    ...(assigned === null || known.has(assigned.unit)
      ? []
      : [{ key: assigned.unit, name: `Unit ${assigned.unit} (another job)` }]),
  ];
  const assign = (text: string) => {
    const [unit = '', channel = ''] = text.split('/');
    const to = isChannelKey(channel) ? { unit, channel } : null;
    void act('sensors.assign', { id: sensor.id, key: value.key, to, reference: value.reference });
  };
  const only = units.length === 1 ? units[0] : undefined;
  return (
    <>
      <select
        aria-label={`${value.label}: channel`}
        disabled={isWaiting || shown.length === 0}
        value={assigned === null ? '' : `${assigned.unit}/${assigned.channel}`}
        onChange={(event) => assign(event.target.value)}
      >
        <option value="">{shown.length === 0 ? 'open a job first' : 'nothing'}</option>
        {shown.map((unit) => (
          <optgroup key={unit.key} label={unit.name}>
            {keys.map((key) => (
              <option key={key} value={`${unit.key}/${key}`}>
                {unit.key}: {channelRow(key).label}
              </option>
            ))}
          </optgroup>
        ))}
      </select>
      {assigned === null && value.hint !== null && only !== undefined && !isWaiting && (
        <button type="button" className="quiet" onClick={() => assign(`${only.key}/${value.hint}`)}>
          {channelRow(value.hint).label}?
        </button>
      )}
    </>
  );
}

/** The zero of a gauge, set only after a person says that it is open to the air. */
function ZeroField({ sensor, value, act }: RowProps): ReactNode {
  const system = useUnits();
  const [asking, setAsking] = useState(false);
  const zero = (on: boolean) => {
    setAsking(false);
    void act('sensors.zero', { id: sensor.id, key: value.key, on });
  };
  if (asking) {
    return (
      <div className="sensor-zero" role="group" aria-label={`Zero of ${value.label}`}>
        <p>
          Only with the hose off the unit and the gauge open to the air, still for ten seconds.
          Close the valves and take the hose off as its maker says; escaping refrigerant freezes
          skin.
        </p>
        <button type="button" className="primary" autoFocus onClick={() => zero(true)}>
          It is open to the air: set zero
        </button>
        <button type="button" onClick={() => setAsking(false)}>
          Not now
        </button>
      </div>
    );
  }
  return (
    <div className="sensor-zero">
      {value.zero !== null && (
        <p>
          {pressureDifferenceText(value.zero.offset_Pa, system)} taken off,{' '}
          {dateText(value.zero.at)}
        </p>
      )}
      <button
        type="button"
        disabled={value.reference === null}
        aria-label={`Check the zero of ${value.label}`}
        onClick={() => setAsking(true)}
      >
        Check zero
      </button>
      {value.zero !== null && (
        <button
          type="button"
          className="quiet"
          aria-label={`Take the zero of ${value.label} away`}
          onClick={() => zero(false)}
        >
          Take away
        </button>
      )}
    </div>
  );
}
