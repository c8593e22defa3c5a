import { fail, ok, type Result } from '../result.ts';
import { KILOGRAM_PER_POUND } from '../units/mass.ts';
import { kelvinFromCelsius, kelvinFromFahrenheit } from '../units/temperature.ts';
import { has, readUint, type Bytes } from './bytes.ts';
import { isPhysical, PHYSICAL_RANGE, type DecodeFailure, type Measurement } from './decoded.ts';
import { readMedicalFloat } from './ieee11073.ts';

/** A measurement that may carry the sensor's own clock. */
export interface TimedMeasurement {
  readonly measurement: Measurement;
  /**
   * The sensor's date and time as seconds since 1970 read as if it were UTC (the format has no
   * zone); null where it sent none or does not know the day.
   */
  readonly deviceTime_s: number | null;
}

/**
 * 0x2A1C Temperature Measurement (Health Thermometer): flags, an IEEE 11073 FLOAT in °C (bit 0
 * clear) or °F (set), then a Date Time if bit 1 and a temperature type if bit 2. Bytes beyond the
 * flagged fields are refused, unless a reserved flag is set that may announce them.
 */
export function decodeTemperatureMeasurement(
  bytes: Bytes,
): Result<TimedMeasurement, DecodeFailure> {
  if (!has(bytes, 0, 5)) return fail({ code: 'TOO_SHORT', need: 5, have: bytes.byteLength });
  const flags = readUint(bytes, 0, 1);
  const raw = readMedicalFloat(bytes, 1);
  const length = 5 + (flags & 0x02 ? 7 : 0) + (flags & 0x04 ? 1 : 0);
  const bad = checkFlaggedLength(bytes, length, (flags & 0xf8) !== 0);
  if (bad !== null) return fail(bad);
  const time = flags & 0x02 ? decodeDateTime(bytes, 5) : ok(null);
  if (!time.ok) return time;
  if (raw === null) {
    return ok({ measurement: { quantity: 'temperature', value: null }, deviceTime_s: time.value });
  }
  const value = (flags & 0x01 ? kelvinFromFahrenheit : kelvinFromCelsius)(raw);
  return inRange({ quantity: 'temperature', value }, time.value);
}

/**
 * 0x2A9D Weight Measurement (Weight Scale): flags, uint16 weight of 0.005 kg (bit 0 clear) or
 * 0.01 lb (set), then Date Time (bit 1), user id (bit 2), BMI and height (bit 3). 0xFFFF means that
 * the measurement was unsuccessful (from memory). Trailing bytes as for the temperature.
 */
export function decodeWeightMeasurement(bytes: Bytes): Result<TimedMeasurement, DecodeFailure> {
  if (!has(bytes, 0, 3)) return fail({ code: 'TOO_SHORT', need: 3, have: bytes.byteLength });
  const flags = readUint(bytes, 0, 1);
  const raw = readUint(bytes, 1, 2);
  const length = 3 + (flags & 0x02 ? 7 : 0) + (flags & 0x04 ? 1 : 0) + (flags & 0x08 ? 4 : 0);
  const bad = checkFlaggedLength(bytes, length, (flags & 0xf0) !== 0);
  if (bad !== null) return fail(bad);
  const time = flags & 0x02 ? decodeDateTime(bytes, 3) : ok(null);
  if (!time.ok) return time;
  if (raw === 0xffff) {
    return ok({ measurement: { quantity: 'mass', value: null }, deviceTime_s: time.value });
  }
  const value = flags & 0x01 ? raw * 0.01 * KILOGRAM_PER_POUND : raw * 0.005;
  return inRange({ quantity: 'mass', value }, time.value);
}

function inRange(
  m: Extract<Measurement, { value: number }>,
  deviceTime_s: number | null,
): Result<TimedMeasurement, DecodeFailure> {
  if (!isPhysical(m.quantity, m.value)) {
    const [min, max] = PHYSICAL_RANGE[m.quantity];
    return fail({ code: 'OUT_OF_RANGE', value: m.value, min, max });
  }
  return ok({ measurement: m, deviceTime_s });
}

function checkFlaggedLength(
  bytes: Bytes,
  need: number,
  reservedFlags: boolean,
): DecodeFailure | null {
  const have = bytes.byteLength;
  if (have < need) return { code: 'TOO_SHORT', need, have };
  if (have > need && !reservedFlags) return { code: 'WRONG_LENGTH', need, have };
  return null;
}

/**
 * Date Time (0x2A08): uint16 year, then month, day, hours, minutes, seconds. Zero for year, month
 * or day means not known. A date that no calendar has is refused.
 */
export function decodeDateTime(bytes: Bytes, offset: number): Result<number | null, DecodeFailure> {
  if (!has(bytes, offset, 7)) {
    return fail({ code: 'TOO_SHORT', need: offset + 7, have: bytes.byteLength });
  }
  const year = readUint(bytes, offset, 2);
  const [month = 0, day = 0, hours = 0, minutes = 0, seconds = 0] = bytes.subarray(
    offset + 2,
    offset + 7,
  );
  if (hours > 23 || minutes > 59 || seconds > 59 || month > 12 || day > 31) {
    return fail({ code: 'BAD_DATE' });
  }
  if (year !== 0 && (year < 1582 || year > 9999)) return fail({ code: 'BAD_DATE' });
  if (year === 0 || month === 0 || day === 0) return ok(null);
  const time = Date.UTC(year, month - 1, day, hours, minutes, seconds);
  if (new Date(time).getUTCDate() !== day) return fail({ code: 'BAD_DATE' });
  return ok(time / 1000);
}
