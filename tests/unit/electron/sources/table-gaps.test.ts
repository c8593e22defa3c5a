import { describe, expect, it } from 'vitest';
import { tableGaps } from '../../../../electron/sources/table-gaps.ts';

/** A column as text: a digit is a value, a dot an empty cell; rows are a second apart. */
function gapsOf(column: string): string {
  const values = Float64Array.from(column, (c) => (c === '.' ? NaN : Number(c)));
  const times = Float64Array.from(column, (_, i) => i);
  return [...tableGaps(times, values)].join('');
}

describe('the gaps of a table', () => {
  it.each([
    ['a fast sensor beside nothing slower', '12345', '00000'],
    ['a sensor that speaks every fourth row', '1...2...3...4', '0000000000000'],
    ['one value that is missing among many', '111.1111', '00000000'],
    ['a sensor that was lost for a while', '11111....11', '00000111100'],
    ['a slow sensor that was lost for a while', '1.2.3.4.......5.6', '00000001111111000'],
    ['a sensor that came late', '..1111', '110000'],
    ['a sensor that never came back', '1111.....', '000011111'],
    ['a single value', '1..', '011'],
    ['no value at all', '...', '111'],
  ])('%s', (_, column, gaps) => {
    expect(gapsOf(column)).toBe(gaps);
  });
});
