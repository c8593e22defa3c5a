import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { rowSamples } from '../../../../electron/sources/csv-table.ts';
import { ATM, read, refused } from '../../../support/csv.ts';

/** All samples of a table in the order of time, then channel. */
function samplesOf(text: string): string[] {
  const table = read(text);
  return [...table.times.keys()]
    .flatMap((row) => rowSamples(table, row))
    .filter((s) => s.value !== null)
    .sort((a, b) => a.t - b.t || a.channel.localeCompare(b.channel))
    .map((s) => `${s.t} ${s.channel} ${s.value}`);
}

const WIDE = `time[s],suctionPressure[psig],suctionLineTemp[degF]
0,118,50
1,118.5,
2,119,51
`;

describe('a table with a row for each reading says the same as one with a column for each channel', () => {
  it.each([
    [
      'the unit in a column',
      'time[s],channel,value,unit\n0,suctionPressure,118,psig\n0,suctionLineTemp,50,degF\n1,suctionPressure,118.5,psig\n2,suctionPressure,119,psig\n2,suctionLineTemp,51,degF\n',
    ],
    [
      'the unit with the channel, and other names and places of the columns',
      'Reading;Sensor;Timestamp [s]\n118;Suction Pressure (psig);0\n50;suctionLineTemp[°F];0\n118,5;suctionPressure[psig];1\n119;suctionPressure[psig];2\n51;suctionLineTemp[degF];2\n',
    ],
    [
      'one channel after the other',
      'time[s],channel,value,unit\n0,suctionPressure,118,psig\n1,suctionPressure,118.5,psig\n2,suctionPressure,119,psig\n0,suctionLineTemp,50,degF\n2,suctionLineTemp,51,degF\n',
    ],
  ])('%s', (_, long) => {
    expect(samplesOf(long)).toEqual(samplesOf(WIDE));
    expect(read(long).gaugeChannels).toEqual(['suctionPressure']);
  });

  it('the unit with all values, and the time as a date', () => {
    const table = read(
      'time,channel,value[degC]\n2026-06-01T10:00:00Z,liquidLineTemp,30\n2026-06-01T10:00:05Z,liquidLineTemp,31\n',
    );
    expect([...table.times]).toEqual([0, 5]);
    expect(table.origin).toBe('2026-06-01T10:00:00.000Z');
    expect(table.values[0]?.[1]).toBeCloseTo(304.15, 9);
  });

  it('a second value of one channel at one time as another row, and a cut last line told', () => {
    const table = read(
      'time[s],channel,value,unit\n0,suctionPressure,118,psig\n0,suctionPressure,119,psig\n1,suctionPr',
    );
    expect([...table.times]).toEqual([0, 0]);
    expect(table.notes[0]).toBe(
      'line 4: the last line was cut off and is left out; all above it is read',
    );
  });

  it('one channel after the other for two minutes, as Python writes it: each time one row', () => {
    const table = read(readFileSync('fixtures/tables/long.csv', 'utf8'));
    expect(table.channels).toEqual(['suctionPressure', 'liquidPressure', 'suctionLineTemp']);
    expect([...table.times]).toEqual(Array.from({ length: 60 }, (_, i) => 2 * i));
    expect(table.reordered).toBe(0);
    expect(table.values.flatMap((list) => [...list]).some(Number.isNaN)).toBe(false);
    expect(table.values[1]?.[3]).toBeCloseTo((340.6 * 4.4482216152605) / 0.0254 ** 2 + ATM, 3);
    expect(table.gaps.flatMap((gaps) => [...gaps]).includes(1)).toBe(false);
  });
});

describe('a table with a row for each reading is refused, with the place', () => {
  it.each([
    [
      'time[s],channel,value\n0,suctionPressure,118\n',
      "line 2, column 2 (channel): 'suctionPressure' has no unit here: write it in a column unit, or channel[unit]",
    ],
    [
      'time[s],channel,value,unit\n0,suctionPressure,118,psig\n0,battery,90,percent\n',
      'line 3, column 2 (channel): there is no channel battery',
    ],
    [
      'time[s],channel,value,unit\n0,suctionPressure,118,degF\n',
      'line 2, column 2 (channel): suctionPressure cannot be in degF',
    ],
    [
      'time[s],channel,value,unit\n0,suctionPressure,118,psig\n1,suctionPressure,8,barg\n',
      'line 3, column 2 (channel): suctionPressure is in barg here and in psig in line 2: write one unit throughout',
    ],
    [
      'time[s],channel,value,unit\n0,suctionPressure,118,psig\n0,suctionLineTemp,warm,degF\n',
      "line 3, column 3 (value): 'warm' is not a number",
    ],
    [
      'time[s],channel,value,unit\n0,,118,psig\n',
      'line 2, column 2 (channel): the channel is missing',
    ],
    ['channel,value,unit\nsuctionPressure,118,psig\n', 'line 1: there is no time column'],
    [
      'time[s],channel,value,unit,place\n0,suctionPressure,118,psig,roof\n',
      'line 1, column 5 (place): a table with a row for each reading has the columns time, channel, value and unit: remove this one',
    ],
    [
      'time[s],channel,value,unit,reading\n',
      'line 1, column 5 (reading): the value is already in column 3',
    ],
    [
      'time[s],channel,value,unit\n0,suctionPressure\n1,suctionPressure,118,psig\n',
      'line 2, column 3: the row has 2 cells',
    ],
    [
      'time[s],channel,value,unit\n65.5,suctionPressure,118,psig\n5,suctionPressure,118,psig\n',
      'line 3, column 1 (time[s]): the time goes back by more than 60 s',
    ],
    ['time[s],channel,value,unit\n', 'line 2: there is no row under the header'],
    [
      'Site 7\ntime[s],channel,value,unit\n0,suctionPressure,118,psig\n',
      'the first line must be the header, which stands in line 2',
    ],
  ])('%j', (text, message) => {
    expect(refused(text)).toContain(message);
  });
});
