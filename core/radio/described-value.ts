import type { Accuracy } from '../circuit/types.ts';
import { fail, ok, type Result } from '../result.ts';
import { toSI, UNIT_SYMBOLS, type Quantity } from '../units/symbols.ts';
import { has, readFloat, readInt, readUint, type Bytes } from './bytes.ts';
import { isPhysical, PHYSICAL_RANGE, type DecodeFailure, type Measurement } from './decoded.ts';
import type { DescribedField, DescribedValue, RawType } from './description.ts';
import { readMedicalFloat, readMedicalShortFloat } from './ieee11073.ts';

const LENGTHS: Readonly<Record<RawType, number>> = {
  uint8: 1,
  uint16: 2,
  uint24: 3,
  uint32: 4,
  sint8: 1,
  sint16: 2,
  sint24: 3,
  sint32: 4,
  float32: 4,
  float64: 8,
  ieee11073Float: 4,
  ieee11073ShortFloat: 2,
};

/** A value read by a user's description. */
export interface DescribedReading {
  readonly measurement: Measurement;
  readonly seq: number | null;
  readonly deviceTime_s: number | null;
}

/** The quantity a described value carries: the first that its unit can express. */
export function quantityOf(value: DescribedValue): Quantity {
  if (value.channelHint === 'vacuum') return 'vacuum';
  const [first] = UNIT_SYMBOLS[value.unit].quantities;
  return first ?? 'pressure';
}

/**
 * Reads one described value. Bytes after the field are expected (other fields) and ignored; a
 * packet too short for the field is refused. A pressure is in Pa as sent, gauge or absolute as the
 * description says. A float that is not a number, and the raw values listed, mean "not known".
 */
export function decodeDescribed(
  value: DescribedValue,
  bytes: Bytes,
): Result<DescribedReading, DecodeFailure> {
  const raw = readField(value, bytes);
  if (!raw.ok) return raw;
  const seq = value.sequence === undefined ? ok(null) : readField(value.sequence, bytes);
  if (!seq.ok) return seq;
  const time = value.deviceTime === undefined ? ok(null) : readField(value.deviceTime, bytes);
  if (!time.ok) return time;
  const stamp = {
    seq: seq.value,
    deviceTime_s: finiteOrNull((time.value ?? NaN) * (value.deviceTime?.scale ?? 1)),
  };
  const quantity = quantityOf(value);
  if (raw.value === null || value.notKnown.includes(raw.value)) {
    return ok({ measurement: { quantity, value: null }, ...stamp });
  }
  const shown = raw.value * value.scale + value.offset;
  if (!(shown >= (value.min ?? -Infinity) && shown <= (value.max ?? Infinity))) {
    return fail({
      code: 'OUT_OF_RANGE',
      value: shown,
      min: value.min ?? -Number.MAX_VALUE,
      max: value.max ?? Number.MAX_VALUE,
    });
  }
  const si = toSI(shown, value.unit, 0);
  if (!isPhysical(quantity, si)) {
    const [min, max] = PHYSICAL_RANGE[quantity];
    return fail({ code: 'OUT_OF_RANGE', value: si, min, max });
  }
  return ok({ measurement: { quantity, value: si }, ...stamp });
}

function readField(field: DescribedField, bytes: Bytes): Result<number | null, DecodeFailure> {
  const length = LENGTHS[field.type];
  if (!has(bytes, field.byte, length)) {
    return fail({ code: 'TOO_SHORT', need: field.byte + length, have: bytes.byteLength });
  }
  return ok(readRaw(field, bytes, length));
}

function readRaw(field: DescribedField, bytes: Bytes, length: number): number | null {
  if (field.type === 'float32' || field.type === 'float64') {
    return finiteOrNull(readFloat(bytes, field.byte, length === 4 ? 4 : 8, field.endian));
  }
  if (field.type === 'ieee11073Float' || field.type === 'ieee11073ShortFloat') {
    const ordered = field.endian === 'little' ? bytes : reversed(bytes, field.byte, length);
    const at = field.endian === 'little' ? field.byte : 0;
    return (length === 4 ? readMedicalFloat : readMedicalShortFloat)(ordered, at);
  }
  const read = field.type.startsWith('u') ? readUint : readInt;
  return read(bytes, field.byte, length as 1 | 2 | 3 | 4, field.endian);
}

const finiteOrNull = (x: number): number | null => (Number.isFinite(x) ? x : null);

const reversed = (bytes: Bytes, at: number, length: number): Bytes =>
  Uint8Array.from(bytes.subarray(at, at + length)).reverse();

/** The description's accuracy in SI and in the form the engine takes; null where none is given. */
export function accuracyInSI(value: DescribedValue): Accuracy | null {
  const a = value.accuracy;
  if (a === undefined) return null;
  const step = UNIT_SYMBOLS[value.unit].scale;
  return {
    ...(a.ofReading === undefined ? {} : { ofReading: a.ofReading }),
    ...(a.ofFullScale === undefined || a.fullScale === undefined
      ? {}
      : { ofFullScale: { fraction: a.ofFullScale, fullScale: a.fullScale * step } }),
    ...(a.absolute === undefined ? {} : { absolute: a.absolute * step }),
  };
}
