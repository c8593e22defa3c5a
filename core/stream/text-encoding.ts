/**
 * How the bytes of a logged table are text. Spreadsheets save "Unicode text" as UTF-16, which nothing in
 * UTF-8 looks like: it begins with a byte order mark, or every second byte of its header is zero.
 */
export type TextEncoding = 'utf-8' | 'utf-16le' | 'utf-16be';

/** So many bytes at the beginning are looked at: a header is longer, and plain. */
const LOOKED_AT = 64;

/** The encoding of a text by its first bytes. */
export function encodingOf(bytes: Uint8Array): TextEncoding {
  const [a, b] = bytes;
  if (a === 0xff && b === 0xfe) return 'utf-16le';
  if (a === 0xfe && b === 0xff) return 'utf-16be';
  const pairs = Math.floor(Math.min(bytes.length, LOOKED_AT) / 2);
  if (pairs === 0) return 'utf-8';
  let evenZeros = 0;
  let oddZeros = 0;
  for (let i = 0; i < pairs; i += 1) {
    if (bytes[2 * i] === 0) evenZeros += 1;
    if (bytes[2 * i + 1] === 0) oddZeros += 1;
  }
  // A degree sign or a foreign letter in a header has no zero byte at all; text has none on both sides.
  if (2 * oddZeros > pairs && evenZeros === 0) return 'utf-16le';
  if (2 * evenZeros > pairs && oddZeros === 0) return 'utf-16be';
  return 'utf-8';
}

/** The whole of a text; what is no text in its encoding comes out as replacement characters. */
export function decodeText(bytes: Uint8Array): string {
  return new TextDecoder(encodingOf(bytes)).decode(bytes);
}
