import { fail, ok, type Result } from '../result.ts';
import type { Quantity } from '../units/symbols.ts';
import { readInt, readUint, type Bytes } from './bytes.ts';
import type { DecodeFailure, Measurement } from './decoded.ts';

/**
 * A characteristic that is one fixed-length integer. Lengths, units and resolutions: Bluetooth SIG
 * characteristic definitions (GATT Specification Supplement). Which raw value means "not known" is
 * from memory except for Temperature.
 */
interface IntegerCharacteristic {
  readonly quantity: Quantity;
  readonly length: 1 | 2 | 3 | 4;
  readonly signed: boolean;
  /** SI = raw * scale + offset. */
  readonly scale: number;
  readonly offset: number;
  /** The raw value by which the sensor says that it does not know. */
  readonly notKnown?: number;
  /** The raw values the definition allows. */
  readonly rawMin: number;
  readonly rawMax: number;
}

const CHARACTERISTICS = {
  /** 0x2A6D Pressure: uint32, 0.1 Pa; no special value. Gauge or absolute is not stated. */
  pressure: {
    quantity: 'pressure',
    length: 4,
    signed: false,
    scale: 0.1,
    offset: 0,
    rawMin: 0,
    rawMax: 0xffff_ffff,
  },
  /** 0x2A6E Temperature: sint16, 0.01 °C, -273.15 to 327.67; 0x8000 is not known. */
  temperature: {
    quantity: 'temperature',
    length: 2,
    signed: true,
    scale: 0.01,
    offset: 273.15,
    notKnown: -0x8000,
    rawMin: -27_315,
    rawMax: 0x7fff,
  },
  /** 0x2A6F Humidity: uint16, 0.01 %, 0 to 100; 0xFFFF is not known. */
  humidity: {
    quantity: 'humidity',
    length: 2,
    signed: false,
    scale: 0.0001,
    offset: 0,
    notKnown: 0xffff,
    rawMin: 0,
    rawMax: 10_000,
  },
  /** 0x2AEE Electric Current: uint16, 0.01 A; 0xFFFF is not known. */
  electricCurrent: {
    quantity: 'current',
    length: 2,
    signed: false,
    scale: 0.01,
    offset: 0,
    notKnown: 0xffff,
    rawMin: 0,
    rawMax: 0xfffe,
  },
  /** 0x2B18 Voltage: uint16, 1/64 V, 0 to 1022; 0xFFFF is not known. */
  voltage: {
    quantity: 'voltage',
    length: 2,
    signed: false,
    scale: 1 / 64,
    offset: 0,
    notKnown: 0xffff,
    rawMin: 0,
    rawMax: 1022 * 64,
  },
  /** 0x2A98 Weight: uint16, 0.005 kg; no special value. */
  weight: {
    quantity: 'mass',
    length: 2,
    signed: false,
    scale: 0.005,
    offset: 0,
    rawMin: 0,
    rawMax: 0xffff,
  },
} as const satisfies Record<string, IntegerCharacteristic>;

/** A characteristic of one integer, by our name for it. */
export type IntegerCharacteristicName = keyof typeof CHARACTERISTICS;

/**
 * Decodes a one-integer characteristic into SI. The length must be exact: these definitions have a
 * fixed size, so a byte more is another characteristic than it claims to be.
 */
export function decodeInteger(
  name: IntegerCharacteristicName,
  bytes: Bytes,
): Result<Measurement, DecodeFailure> {
  const c: IntegerCharacteristic = CHARACTERISTICS[name];
  if (bytes.byteLength !== c.length) {
    return fail({ code: 'WRONG_LENGTH', need: c.length, have: bytes.byteLength });
  }
  return fromRaw(c, (c.signed ? readInt : readUint)(bytes, 0, c.length));
}

function fromRaw(c: IntegerCharacteristic, raw: number): Result<Measurement, DecodeFailure> {
  if (raw === c.notKnown) return ok({ quantity: c.quantity, value: null });
  if (raw < c.rawMin || raw > c.rawMax) {
    return fail({
      code: 'OUT_OF_RANGE',
      value: raw * c.scale + c.offset,
      min: c.rawMin * c.scale + c.offset,
      max: c.rawMax * c.scale + c.offset,
    });
  }
  return ok({ quantity: c.quantity, value: raw * c.scale + c.offset });
}

/** The range a sensor states for itself, SI. */
export interface ValidRange {
  readonly min: number;
  readonly max: number;
}

/**
 * 0x2906 Valid Range: the lower value and then the upper, each in the format of the characteristic
 * it belongs to. Exact length; a lower value above the upper is refused.
 */
export function decodeValidRange(
  name: IntegerCharacteristicName,
  bytes: Bytes,
): Result<ValidRange, DecodeFailure> {
  const c: IntegerCharacteristic = CHARACTERISTICS[name];
  if (bytes.byteLength !== 2 * c.length) {
    return fail({ code: 'WRONG_LENGTH', need: 2 * c.length, have: bytes.byteLength });
  }
  const read = c.signed ? readInt : readUint;
  const min = read(bytes, 0, c.length) * c.scale + c.offset;
  const max = read(bytes, c.length, c.length) * c.scale + c.offset;
  if (min > max) return fail({ code: 'OUT_OF_RANGE', value: min, min, max });
  return ok({ min, max });
}

/**
 * 0x2A19 Battery Level: uint8, percent; 101 to 255 are reserved and refused. Exactly one byte.
 */
export function decodeBatteryLevel(bytes: Bytes): Result<number, DecodeFailure> {
  if (bytes.byteLength !== 1) {
    return fail({ code: 'WRONG_LENGTH', need: 1, have: bytes.byteLength });
  }
  const percent = readUint(bytes, 0, 1);
  if (percent > 100) return fail({ code: 'OUT_OF_RANGE', value: percent, min: 0, max: 100 });
  return ok(percent);
}
