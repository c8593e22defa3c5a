import { fail, ok, type Result } from '../result.ts';
import { readInt, readUint, type Bytes } from './bytes.ts';
import type { DecodeFailure } from './decoded.ts';

/** How the sensor made the value out of its readings (0x290C; order from memory). */
export const SAMPLING_FUNCTIONS = [
  'unspecified',
  'instantaneous',
  'arithmeticMean',
  'rms',
  'maximum',
  'minimum',
  'accumulated',
  'count',
] as const;

/** Where the sensor stands (0x290C "application"; order from memory). */
export const APPLICATIONS = [
  'unspecified',
  'air',
  'water',
  'barometric',
  'soil',
  'infrared',
  'map database',
  'barometric elevation',
  'GPS only elevation',
  'GPS and map elevation',
  'vertical datum elevation',
  'onshore',
  'onboard vessel or vehicle',
  'front',
  'back',
  'upper',
  'lower',
  'primary',
  'secondary',
  'outdoor',
  'indoor',
  'top',
  'bottom',
  'main',
  'backup',
  'auxiliary',
  'supplementary',
  'inside',
  'outside',
  'left',
  'right',
  'internal',
  'external',
  'solar',
] as const;

export interface EsMeasurement {
  /** Null where the code is reserved. */
  readonly samplingFunction: (typeof SAMPLING_FUNCTIONS)[number] | null;
  /** Seconds over which the value was formed; null where not in use. */
  readonly measurementPeriod_s: number | null;
  /** Seconds between values; null where not in use. */
  readonly updateInterval_s: number | null;
  readonly application: (typeof APPLICATIONS)[number] | null;
  readonly applicationCode: number;
  /** Uncertainty the sensor claims, as a fraction of reading; null where not available. */
  readonly uncertainty: number | null;
}

/** 0x290C ES Measurement: exactly 11 bytes; the flags are reserved and ignored. */
export function decodeEsMeasurement(bytes: Bytes): Result<EsMeasurement, DecodeFailure> {
  if (bytes.byteLength !== 11) {
    return fail({ code: 'WRONG_LENGTH', need: 11, have: bytes.byteLength });
  }
  const period = readUint(bytes, 3, 3);
  const interval = readUint(bytes, 6, 3);
  const applicationCode = readUint(bytes, 9, 1);
  const uncertainty = readUint(bytes, 10, 1);
  return ok({
    samplingFunction: SAMPLING_FUNCTIONS[readUint(bytes, 2, 1)] ?? null,
    measurementPeriod_s: period === 0 ? null : period,
    updateInterval_s: interval === 0 ? null : interval,
    application: APPLICATIONS[applicationCode] ?? null,
    applicationCode,
    uncertainty: uncertainty === 0xff ? null : uncertainty * 0.005,
  });
}

/** Format codes of 0x2904 (Assigned Numbers). Codes not listed are reserved or not numbers. */
const FORMATS: Readonly<Record<number, string>> = {
  1: 'boolean',
  4: 'uint8',
  6: 'uint16',
  7: 'uint24',
  8: 'uint32',
  12: 'sint8',
  14: 'sint16',
  15: 'sint24',
  16: 'sint32',
  20: 'float32',
  21: 'float64',
  22: 'sfloat',
  23: 'float',
  25: 'utf8',
  27: 'struct',
};

/** Names of namespace 1 beyond the ordinals (from memory). */
const PLACES = [
  'front',
  'back',
  'top',
  'bottom',
  'upper',
  'lower',
  'main',
  'backup',
  'auxiliary',
  'supplementary',
  'flash',
  'inside',
  'outside',
  'left',
  'right',
  'internal',
  'external',
] as const;

export interface PresentationFormat {
  /** Null where the code is reserved or unknown to us. */
  readonly format: string | null;
  readonly exponent: number;
  /** 16-bit UUID of the unit, four hex digits. */
  readonly unit: string;
  /** What the namespace's description says, in words ("first", "outside"); null where nothing. */
  readonly description: string | null;
}

/** 0x2904 Characteristic Presentation Format: exactly 7 bytes; value = raw * 10^exponent. */
export function decodePresentationFormat(bytes: Bytes): Result<PresentationFormat, DecodeFailure> {
  if (bytes.byteLength !== 7) {
    return fail({ code: 'WRONG_LENGTH', need: 7, have: bytes.byteLength });
  }
  const namespace = readUint(bytes, 4, 1);
  return ok({
    format: FORMATS[readUint(bytes, 0, 1)] ?? null,
    exponent: readInt(bytes, 1, 1),
    unit: readUint(bytes, 2, 2).toString(16).padStart(4, '0'),
    description: namespace === 1 ? describe(readUint(bytes, 5, 2)) : null,
  });
}

function describe(code: number): string | null {
  if (code >= 1 && code <= 0xff) return `no. ${code}`;
  return PLACES[code - 0x100] ?? null;
}

/** The longest attribute value there is (Core Specification, Vol 3 Part F 3.2.9). */
const LONGEST_TEXT = 512;

/**
 * A UTF-8 text: 0x2901 User Description and the strings of Device Information. NULs at the end are
 * padding and dropped, control characters become spaces. Longer than 512 bytes or not UTF-8 is
 * refused.
 */
export function decodeText(bytes: Bytes): Result<string, DecodeFailure> {
  if (bytes.byteLength > LONGEST_TEXT) {
    return fail({ code: 'WRONG_LENGTH', need: LONGEST_TEXT, have: bytes.byteLength });
  }
  try {
    const text = new TextDecoder('utf-8', { fatal: true }).decode(Uint8Array.from(bytes));
    return ok(
      text
        .replace(/\0+$/, '')
        .replace(/\p{Cc}+/gu, ' ')
        .trim(),
    );
  } catch {
    return fail({ code: 'NOT_UTF8' });
  }
}
