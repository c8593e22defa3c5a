import { mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { readMakerFile } from '../../../../electron/headless/maker-file.ts';

const folder = mkdtempSync(join(tmpdir(), 'maker-'));

function file(content: unknown): string {
  const path = join(folder, 'maker.json');
  writeFileSync(path, typeof content === 'string' ? content : JSON.stringify(content));
  return path;
}
const PSI = 6894.757293168;

describe('the maker file', () => {
  it('is read as printed: gauge at sea level, differences without a zero', () => {
    const read = readMakerFile(
      file({
        at: { outdoorAir: '95 degF', returnWetBulb: '67 degF' },
        suctionPressure: '118 psig',
        discharge: '170 degF',
        subcooling: { value: '10 degF', tolerance: '2 degF' },
        current: '8 A',
      }),
    );
    expect(read.suctionPressure?.value).toBeCloseTo(118 * PSI + 101_325, 3);
    expect(read.discharge?.value).toBeCloseTo((170 + 459.67) / 1.8, 6);
    expect(read.subcooling).toEqual({ value: 10 / 1.8, u: 2 / 1.8 });
    expect(read.current?.u).toBeCloseTo(0.8, 6);
    expect(read.at?.outdoorAir).toBeCloseTo((95 + 459.67) / 1.8, 6);
    expect(read.at?.returnAir).toBeNull();
    expect(read.at?.returnWetBulb).toBeCloseTo((67 + 459.67) / 1.8, 6);
    expect(read.superheat).toBeUndefined();
    expect(readMakerFile(file({}))).toEqual({});
  });

  it.each([
    ['not JSON', '{', 'is not JSON'],
    ['a field that is none', { superheet: '10 degF' }, 'superheet'],
    ['a number without its unit', { superheat: '10' }, "at superheat: '10'"],
    ['a unit that does not fit', { superheat: '10 psig' }, 'degF, degC, K'],
    ['a bare number', { superheat: 10 }, 'at superheat: must be a value with its unit'],
    ['a tolerance that is none', { superheat: { value: '10 K', tolerance: 'x' } }, "'x'"],
    ['a negative tolerance', { superheat: { value: '10 K', tolerance: '-1 K' } }, 'negative'],
    ['a superheat no paper names', { superheat: '300 degF' }, 'at superheat.value: Superheat'],
    [
      'sides exchanged',
      { suctionPressure: '380 psig', liquidPressure: '130 psig' },
      'at suctionPressure: Suction pressure must be below',
    ],
    ['a condition without a unit', { at: { outdoorAir: '95' } }, "at at.outdoorAir: '95'"],
    [
      'a condition that cannot be',
      { at: { outdoorAir: '950 degF' } },
      'at at.outdoorAir: must lie',
    ],
    [
      'a wet bulb above the dry bulb',
      { at: { returnAir: '70 degF', returnWetBulb: '80 degF' } },
      'at at.returnWetBulb: The wet bulb',
    ],
  ])('refuses %s, and says where', (_, content, words) => {
    expect(() => readMakerFile(file(content))).toThrow(words);
  });

  it('names a file that is not there', () => {
    expect(() => readMakerFile(join(folder, 'none.json'))).toThrow('cannot read');
  });
});
