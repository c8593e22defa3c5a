import type { Accuracy } from '../../core/circuit/types.ts';
import type { ChannelKey } from '../../core/stream/channels.ts';
import type { UnitKey } from '../../core/stream/sample.ts';
import type { RememberedValue, SensorMemory, SensorRecord } from './sensor-store.ts';

/** A remembered value that is assigned, with the sensor it belongs to. */
export interface Assigned {
  readonly record: SensorRecord;
  readonly value: RememberedValue;
  readonly unit: UnitKey;
  readonly channel: ChannelKey;
}

/** Every assignment in the memory. */
export function assignments(memory: SensorMemory): readonly Assigned[] {
  return memory
    .all()
    .flatMap((record) =>
      record.values.flatMap((value) =>
        value.assigned === null ? [] : [{ record, value, ...value.assigned }],
      ),
    );
}

/** What the sensors of a unit tell its engine: for the config of a session over the radio. */
export interface SensorConfig {
  /** Channels measured by gauge sensors: made absolute with the local atmosphere. */
  readonly gaugeChannels: readonly ChannelKey[];
  readonly accuracy: Partial<Readonly<Record<ChannelKey, Accuracy>>>;
}

/** The part of a unit's engine config that its assigned sensors decide. */
export function sensorConfig(memory: SensorMemory, unit: UnitKey): SensorConfig {
  const mine = assignments(memory).filter((a) => a.unit === unit);
  const known = mine.flatMap(({ channel, value }) =>
    value.accuracy === null ? [] : [[channel, value.accuracy] as const],
  );
  return {
    gaugeChannels: mine.filter((a) => a.value.reference === 'gauge').map((a) => a.channel),
    accuracy: Object.fromEntries(known),
  };
}
