import { ok, type Result } from '../result.ts';
import type { Quantity } from '../units/symbols.ts';
import type { Bytes } from './bytes.ts';
import type { DecodeFailure } from './decoded.ts';
import { decodeInteger, type IntegerCharacteristicName } from './environmental.ts';
import {
  decodeTemperatureMeasurement,
  decodeWeightMeasurement,
  type TimedMeasurement,
} from './measurements.ts';
import { UUID } from './uuid.ts';

/** A characteristic of the Bluetooth SIG that carries a quantity we can use. */
export interface StandardCharacteristic {
  readonly quantity: Quantity;
  readonly decode: (bytes: Bytes) => Result<TimedMeasurement, DecodeFailure>;
  /** Set where the value is one integer: then 0x2906 Valid Range is in the same format. */
  readonly integer: IntegerCharacteristicName | null;
}

const integer = (quantity: Quantity, name: IntegerCharacteristicName): StandardCharacteristic => ({
  quantity,
  integer: name,
  decode: (bytes) => {
    const decoded = decodeInteger(name, bytes);
    return decoded.ok ? ok({ measurement: decoded.value, deviceTime_s: null }) : decoded;
  },
});

/** Characteristic UUID (four hex digits) to how it is read; the service does not matter. */
export const STANDARD_CHARACTERISTICS: Readonly<Record<string, StandardCharacteristic>> = {
  [UUID.pressure]: integer('pressure', 'pressure'),
  [UUID.temperature]: integer('temperature', 'temperature'),
  [UUID.humidity]: integer('humidity', 'humidity'),
  [UUID.electricCurrent]: integer('current', 'electricCurrent'),
  [UUID.voltage]: integer('voltage', 'voltage'),
  [UUID.weight]: integer('mass', 'weight'),
  [UUID.temperatureMeasurement]: {
    quantity: 'temperature',
    integer: null,
    decode: decodeTemperatureMeasurement,
  },
  [UUID.weightMeasurement]: { quantity: 'mass', integer: null, decode: decodeWeightMeasurement },
};

/** The standard characteristic of that UUID, or null where it is none of ours. */
export function standardCharacteristic(uuid: string): StandardCharacteristic | null {
  return Object.hasOwn(STANDARD_CHARACTERISTICS, uuid)
    ? (STANDARD_CHARACTERISTICS[uuid] ?? null)
    : null;
}
