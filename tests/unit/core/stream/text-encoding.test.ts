import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { decodeText, encodingOf } from '../../../../core/stream/text-encoding.ts';

const bytes = (...list: number[]): Uint8Array => Uint8Array.from(list);

describe('the encoding of a logged table', () => {
  it.each([
    ['utf-16-bom.txt', 'utf-16le'],
    ['utf-16le.txt', 'utf-16le'],
    ['utf-16be.txt', 'utf-16be'],
    ['long.csv', 'utf-8'],
  ])('of %s, which Python wrote, is told by its first bytes', (name, encoding) => {
    const file = readFileSync(`fixtures/tables/${name}`);
    expect(encodingOf(file)).toBe(encoding);
    expect(decodeText(file)).toMatch(/^time\[s\]/);
  });

  it('decodes what was written, with its degree sign and without its mark', () => {
    const file = readFileSync('fixtures/tables/utf-16-bom.txt');
    expect(decodeText(file)).toMatch(
      /^time\[s\]\tsuctionPressure\[psig\]\tsuctionLineTemp\[°F\]\r\n/,
    );
  });

  it('is UTF-8 of what is short, empty or no text', () => {
    expect(encodingOf(bytes())).toBe('utf-8');
    expect(encodingOf(bytes(0x74))).toBe('utf-8');
    expect(encodingOf(bytes(0xef, 0xbb, 0xbf, 0x74))).toBe('utf-8');
    expect(encodingOf(bytes(...Array.from({ length: 64 }, () => 0)))).toBe('utf-8');
    expect(encodingOf(bytes(0x50, 0x4b, 3, 4, 0, 0, 8, 0, 0, 0, 1, 2))).toBe('utf-8');
  });
});
