import { fail, ok, type Result } from '../../core/result.ts';
import { accuracyInSI } from '../../core/radio/described-value.ts';
import { parseSensorDescription } from '../../core/radio/description.ts';
import { quantityFits } from '../../core/radio/sensor-value.ts';
import { zeroCheck } from '../../core/radio/zero-check.ts';
import { channelRow } from '../../core/stream/channels.ts';
import type { CommandArgs } from '../bridge/commands.ts';
import { failure, type Failure } from '../bridge/errors.ts';
import type { Handlers } from '../bridge/handlers.ts';
import type { SensorsView } from '../bridge/views.ts';
import { assignments } from './assignments.ts';
import { isDescribedBy } from './hub.ts';
import type { Radio } from './radio.ts';
import { sayDescriptionRefusal, sayZeroRefusal } from './refusals.ts';
import type { RememberedValue, SensorRecord } from './sensor-store.ts';

/** How far back a zero check may reach, for a slow sensor; the newest value must be fresh. */
const ZERO_LOOKBACK_S = 120;
const FRESH_S = 15;

type Answer = Result<SensorsView, Failure>;

const refuse = (detail: string) => fail(failure('SENSOR_REFUSED', { detail }));

/** Gives every `sensors.*` command its handler. */
export function registerSensorCommands(handlers: Handlers, radio: Radio): void {
  handlers.handle('sensors.watch', ({ scan }) => {
    radio.watch(scan);
    return ok(radio.view());
  });
  handlers.handle('sensors.add', (args) => add(radio, args));
  handlers.handle('sensors.rename', ({ id, name }) =>
    change(radio, id, (record) => ok({ ...record, name })),
  );
  handlers.handle('sensors.forget', ({ id }) => {
    radio.memory.remove(id);
    return ok(radio.view());
  });
  handlers.handle('sensors.assign', (args) => assign(radio, args));
  handlers.handle('sensors.secret', ({ id, bindKey }) =>
    change(radio, id, (record) =>
      ok({ ...record, bindKey: bindKey === null ? null : bindKey.toLowerCase() }),
    ),
  );
  handlers.handle('sensors.describe', (args) => describe(radio, args));
  handlers.handle('sensors.zero', (args) => zero(radio, args));
  handlers.handle('sensors.retry', ({ id }) => {
    radio.hub.retry(id);
    return ok(radio.view());
  });
}

function change(
  radio: Radio,
  id: string,
  fn: (record: SensorRecord) => Result<SensorRecord, Failure>,
): Answer {
  const record = radio.memory.get(id);
  if (record === null) return refuse('it is not among the added sensors; add it first');
  const changed = fn(record);
  if (!changed.ok) return changed;
  radio.memory.put(changed.value);
  return ok(radio.view());
}

function changeValue(
  radio: Radio,
  id: string,
  key: string,
  fn: (value: RememberedValue, record: SensorRecord) => Result<RememberedValue, Failure>,
): Answer {
  return change(radio, id, (record) => {
    const value = record.values.find((v) => v.key === key) ?? newValue(radio, record, key);
    if (value === null) return refuse('this sensor has no such value');
    const changed = fn(value, record);
    if (!changed.ok) return changed;
    const isNew = !record.values.some((v) => v.key === key);
    const values = record.values.map((v) => (v.key === key ? changed.value : v));
    return ok({ ...record, values: isNew ? [...values, changed.value] : values });
  });
}

/** A value seen on the air but not yet remembered. */
function newValue(radio: Radio, record: SensorRecord, key: string): RememberedValue | null {
  const live = radio.hub.sensor(record.id)?.values.get(key);
  if (live === undefined) return null;
  const described = record.description?.values.find((v) => `described/${v.key}` === key);
  const claimed = live.uncertainty === null ? null : { ofReading: live.uncertainty };
  return {
    key,
    label: live.label.slice(0, 120),
    quantity: live.quantity,
    assigned: null,
    reference: described?.reference ?? null,
    zero: null,
    accuracy: described === undefined ? claimed : accuracyInSI(described),
  };
}

function add(radio: Radio, { id, name }: CommandArgs<'sensors.add'>): Answer {
  const live = radio.hub.sensor(id);
  if (live === null) return refuse('it is not in sight; search again');
  if (radio.memory.get(id) !== null) return ok(radio.view());
  radio.memory.put({
    id,
    name: (name ?? live.name ?? `Sensor ${id.slice(-4)}`).slice(0, 80),
    address: live.address,
    reach: live.broadcasts ? 'broadcast' : 'link',
    bindKey: null,
    description: null,
    values: [],
    addedAt: radio.wallClock(),
  });
  return ok(radio.view());
}

function assign(radio: Radio, args: CommandArgs<'sensors.assign'>): Answer {
  const { id, key, to, reference } = args;
  return changeValue(radio, id, key, (value) => {
    const isPressure = value.quantity === 'pressure';
    if (isPressure && radio.recording()) {
      return refuse(
        'stop the recording first: its record says which pressures are gauge, and that must stay true',
      );
    }
    // A zero belongs to the reference it was measured with.
    const zero = reference === value.reference ? value.zero : null;
    const settings = { ...value, reference: isPressure ? reference : null, zero };
    if (to === null) return ok({ ...settings, assigned: null });
    const label = channelRow(to.channel).label;
    if (!quantityFits(value.quantity, to.channel)) {
      return refuse(`${label} does not take a ${value.quantity}`);
    }
    if (isPressure && reference === null) {
      return refuse('say first whether this sensor measures gauge or absolute pressure');
    }
    const isAbsoluteOnly = to.channel === 'barometricPressure' || to.channel === 'vacuum';
    if (isAbsoluteOnly && reference === 'gauge') return refuse(`${label} needs an absolute sensor`);
    const other = assignments(radio.memory).find(
      (a) =>
        a.unit === to.unit &&
        a.channel === to.channel &&
        !(a.record.id === id && a.value.key === key),
    );
    if (other !== undefined) {
      const place = `${label} of unit ${to.unit}`;
      return refuse(`${place} is measured by ${other.record.name}; free it there first`);
    }
    return ok({ ...settings, assigned: to });
  });
}

function describe(radio: Radio, { id, text }: CommandArgs<'sensors.describe'>): Answer {
  if (text === null) {
    return change(radio, id, (record) =>
      ok({
        ...record,
        description: null,
        values: record.values.filter((v) => !v.key.startsWith('described/')),
      }),
    );
  }
  const parsed = parseSensorDescription(text);
  if (!parsed.ok) return refuse(`the description: ${sayDescriptionRefusal(parsed.error)}`);
  const description = parsed.value;
  const live = radio.hub.sensor(id);
  const isHeard = live !== null && live.lastSeen !== null;
  if (isHeard && !isDescribedBy(live, description)) {
    return refuse(`“${description.name}” is not meant for this sensor: its "match" does not fit`);
  }
  return change(radio, id, (record) => {
    const keys = new Set(description.values.map((v) => `described/${v.key}`));
    const values = record.values.filter((v) => !v.key.startsWith('described/') || keys.has(v.key));
    const overLink = description.values.some((v) => v.from.kind === 'characteristic');
    return ok({ ...record, description, values, reach: overLink ? 'link' : 'broadcast' });
  });
}

function zero(radio: Radio, { id, key, on }: CommandArgs<'sensors.zero'>): Answer {
  return changeValue(radio, id, key, (value) => {
    if (!on) return ok({ ...value, zero: null });
    if (value.quantity !== 'pressure' || value.reference === null) {
      return refuse('only a pressure that is set to gauge or absolute has a zero');
    }
    const now = radio.now();
    const recent = radio.hub.sensor(id)?.recent(key, now - ZERO_LOOKBACK_S) ?? [];
    const isFresh = now - (recent.at(-1)?.t ?? -Infinity) <= FRESH_S;
    const atmosphere = radio.atmosphere(value.assigned?.unit ?? '');
    const checked = zeroCheck({
      samples: isFresh ? recent : [],
      reference: value.reference,
      atmosphere_Pa: atmosphere.kind === 'assumed' ? null : atmosphere.pressure,
      fullScale_Pa: value.accuracy?.ofFullScale?.fullScale ?? null,
    });
    if (!checked.ok) return refuse(`the zero was not set: ${sayZeroRefusal(checked.error)}`);
    const { offset_Pa, samples } = checked.value;
    return ok({ ...value, zero: { offset_Pa, samples, at: radio.wallClock() } });
  });
}
