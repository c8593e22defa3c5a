/** Bytes as they come off the air. */
export type Bytes = Readonly<Uint8Array>;

const view = (bytes: Bytes): DataView =>
  new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);

/** Byte order of a multi-byte number; everything by the Bluetooth SIG is little. */
export type Endian = 'little' | 'big';

/** Whether `length` bytes stand at `offset`. */
export function has(bytes: Bytes, offset: number, length: number): boolean {
  return (
    Number.isInteger(offset) && offset >= 0 && length >= 0 && offset + length <= bytes.byteLength
  );
}

/**
 * An unsigned integer of 1 to 4 bytes. The caller has checked the length with {@link has}; outside
 * the bytes the missing ones count as zero.
 */
export function readUint(
  bytes: Bytes,
  offset: number,
  length: 1 | 2 | 3 | 4,
  endian: Endian = 'little',
): number {
  let value = 0;
  for (let i = 0; i < length; i += 1) {
    const at = endian === 'little' ? offset + length - 1 - i : offset + i;
    value = value * 256 + (bytes[at] ?? 0);
  }
  return value;
}

/** A two's-complement integer of 1 to 4 bytes; lengths as for {@link readUint}. */
export function readInt(
  bytes: Bytes,
  offset: number,
  length: 1 | 2 | 3 | 4,
  endian: Endian = 'little',
): number {
  const raw = readUint(bytes, offset, length, endian);
  const half = 2 ** (8 * length - 1);
  return raw >= half ? raw - 2 * half : raw;
}

/** An IEEE 754 number of 4 or 8 bytes; the caller has checked the length with {@link has}. */
export function readFloat(bytes: Bytes, offset: number, length: 4 | 8, endian: Endian): number {
  const little = endian === 'little';
  return length === 4
    ? view(bytes).getFloat32(offset, little)
    : view(bytes).getFloat64(offset, little);
}

/** Lower-case hexadecimal, two digits a byte. */
export function toHex(bytes: Bytes): string {
  let text = '';
  for (const byte of bytes) text += byte.toString(16).padStart(2, '0');
  return text;
}

/** Bytes from hexadecimal digits; null where the text is not an even number of them. */
export function fromHex(text: string): Uint8Array | null {
  if (text.length % 2 !== 0 || !/^[0-9a-fA-F]*$/.test(text)) return null;
  const bytes = new Uint8Array(text.length / 2);
  for (let i = 0; i < bytes.length; i += 1) {
    bytes[i] = Number.parseInt(text.slice(2 * i, 2 * i + 2), 16);
  }
  return bytes;
}
