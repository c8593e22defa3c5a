import { readInt, readUint, type Bytes } from './bytes.ts';

/**
 * IEEE 11073-20601 FLOAT: 4 bytes little-endian, a 24-bit mantissa and an 8-bit exponent of ten.
 * Null for the special mantissas NaN 0x7FFFFF, NRes 0x800000, +INF 0x7FFFFE, -INF 0x800002 and the
 * reserved 0x800001 (values from memory), whatever the exponent. The caller has checked the length.
 */
export function readMedicalFloat(bytes: Bytes, offset: number): number | null {
  const mantissa = readInt(bytes, offset, 3);
  const exponent = readInt(bytes, offset + 3, 1);
  if (mantissa >= 0x7f_fffe || mantissa <= -0x7f_fffe) return null;
  return scaleByTen(mantissa, exponent);
}

/**
 * IEEE 11073-20601 SFLOAT: 2 bytes little-endian, a 12-bit mantissa and a 4-bit exponent of ten.
 * Null for NaN 0x7FF, NRes 0x800, +INF 0x7FE, -INF 0x802 and the reserved 0x801 (from memory).
 */
export function readMedicalShortFloat(bytes: Bytes, offset: number): number | null {
  const raw = readUint(bytes, offset, 2);
  const mantissa = ((raw & 0xfff) ^ 0x800) - 0x800;
  const exponent = ((raw >> 12) ^ 0x8) - 0x8;
  if (mantissa >= 0x7fe || mantissa <= -0x7fe) return null;
  return scaleByTen(mantissa, exponent);
}

/** Dividing by a power of ten keeps 36.6 at 36.6, where multiplying by 0.1 would not. */
function scaleByTen(mantissa: number, exponent: number): number {
  return exponent < 0 ? mantissa / 10 ** -exponent : mantissa * 10 ** exponent;
}
