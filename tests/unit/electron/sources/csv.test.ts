import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Sample } from '../../../../core/stream/sample.ts';
import { CHANNEL_KEYS, channelRow } from '../../../../core/stream/channels.ts';
import { UNIT_SYMBOLS } from '../../../../core/units/symbols.ts';
import { csvErrorText } from '../../../../electron/sources/csv-header.ts';
import { valueInUnit, writeCsv } from '../../../../electron/sources/csv-writer.ts';
import { rowSamples } from '../../../../electron/sources/csv-table.ts';
import { parseCsv } from '../../../../electron/sources/csv.ts';
import { ATM, read, refused } from '../../../support/csv.ts';

const HEAD_TWO = 'time[s],suctionPressure[psig]\n';
const psig = (value: number): number => value * 6894.757293168361 + ATM;

describe('parseCsv accepts', () => {
  it('the plain form', () => {
    const table = read('time[s],suctionPressure[psig],suctionLineTemp[degF]\n0,118,50\n1,118.5,\n');
    expect(table.channels).toEqual(['suctionPressure', 'suctionLineTemp']);
    expect(table.gaugeChannels).toEqual(['suctionPressure']);
    expect([...table.times]).toEqual([0, 1]);
    expect(table.values[0]?.[0]).toBeCloseTo(psig(118), 6);
    expect(table.values[1]?.[0]).toBeCloseTo(283.15, 9);
    expect(rowSamples(table, 1)[1]).toEqual({
      channel: 'suctionLineTemp',
      t: 1,
      value: null,
      why: 'empty',
    });
  });

  it('a byte order mark, CRLF, quotes and blanks around cells', () => {
    const table = read('\uFEFF"time[s]","suctionPressure[psig]"\r\n"0","118"\r\n 1 , 119 \r\n\r\n');
    expect(table.times.length).toBe(2);
    expect(table.values[0]?.[1]).toBeCloseTo(psig(119), 6);
  });

  it('semicolons with a decimal comma, and tabs', () => {
    const semicolon = read('time[s];suctionPressure[barg]\n0,5;8,25\n1,5;8.5\n');
    expect([...semicolon.times]).toEqual([0.5, 1.5]);
    expect(semicolon.values[0]?.[0]).toBeCloseTo(825_000 + ATM, 6);
    expect(semicolon.values[0]?.[1]).toBeCloseTo(850_000 + ATM, 6);
    expect(read('time[s]\tsuctionPressure[kPa]\n0\t900,5\n').values[0]?.[0]).toBeCloseTo(
      900_500,
      6,
    );
  });

  it('tables of many pieces, quoted and with breaks of line inside quotes, each row once', () => {
    const rows = Array.from({ length: 60_000 }, (_, i) => `"${i}","${100 + (i % 50)}","5\r\n"`);
    const text = `time[s],suctionPressure[psig],current[A]\r\n${rows.join('\r\n')}\r\n`;
    expect(text.length).toBeGreaterThan(4 * (1 << 18));
    const table = read(text.replaceAll('current[A]', 'compressorCurrent[A]'));
    expect([...table.times]).toEqual(rows.map((_, i) => i));
    expect(table.values[0]?.every((v, i) => Math.abs(v - psig(100 + (i % 50))) < 1e-6)).toBe(true);
    expect(table.values[1]?.every((v) => v === 5)).toBe(true);
    const wrong = `${HEAD_TWO}${'0,118\n'.repeat(90_000)}0,many\n`;
    expect(refused(wrong)).toMatch(/^line 90002, column 2/);
  });

  it('ISO 8601 times without a zone, as they are written', () => {
    const table = read('time,suctionPressure[Pa]\n2026-06-01 10:00,9e5\n2026-06-01T10:00:03,9e5\n');
    expect([...table.times]).toEqual([0, 3]);
  });

  it('ISO 8601 times with zones and fractions', () => {
    const table = read(
      'time,suctionPressure[Pa]\n2026-06-01T12:00:00+02:00,9e5\n2026-06-01T10:00:01.500Z,9e5\n2026-06-01 10:00:03Z,9e5\n2026-06-01T12:00:04+0200,9e5\n',
    );
    expect([...table.times]).toEqual([0, 1.5, 3, 4]);
    expect(table.origin).toBe('2026-06-01T10:00:00.000Z');
  });

  it('rows up to a minute late, in the order of their times', () => {
    const table = read(
      'time[s],suctionPressure[Pa]\n0,1e5\n10,2e5\n4,3e5\n10,4e5\n-50,5e5\n11,6e5\n',
    );
    expect([...table.times]).toEqual([-50, 0, 4, 10, 10, 11]);
    expect([...(table.values[0] ?? [])]).toEqual([5e5, 1e5, 3e5, 2e5, 4e5, 6e5]);
    expect(table.reordered).toBe(2);
  });

  it('ISO 8601 rows out of order, beginning with the earliest', () => {
    const table = read(
      'time,suctionPressure[Pa]\n2026-06-01T10:00:05Z,1e5\n2026-06-01T10:00:00Z,2e5\n',
    );
    expect([...table.times]).toEqual([0, 5]);
    expect([...(table.values[0] ?? [])]).toEqual([2e5, 1e5]);
    expect(table.origin).toBe('2026-06-01T10:00:00.000Z');
  });

  it('any shuffle within a minute, to the same table', () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: 0, max: 55_000 }), { minLength: 1, maxLength: 30 }),
        (ms) => {
          const line = (t: number): string => `${t / 1000},${1e5 + t}`;
          const write = (list: readonly number[]): string =>
            `time[s],suctionPressure[Pa]\n${list.map(line).join('\n')}\n`;
          const shuffled = read(write(ms));
          const sorted = read(write([...ms].sort((a, b) => a - b)));
          expect([...shuffled.times]).toEqual([...sorted.times]);
          expect([...(shuffled.values[0] ?? [])]).toEqual([...(sorted.values[0] ?? [])]);
        },
      ),
    );
  });

  it('every unit on a channel of its quantity', () => {
    const channel = {
      pressure: 'suctionPressure',
      temperature: 'suctionLineTemp',
      humidity: 'returnAirHumidity',
      current: 'compressorCurrent',
      voltage: 'lineVoltage',
      vacuum: 'vacuum',
      mass: 'scaleWeight',
    } as const;
    for (const [symbol, row] of Object.entries(UNIT_SYMBOLS)) {
      const [quantity = 'pressure'] = row.quantities;
      const table = read(`time[s],${channel[quantity]}[${symbol}]\n0,10\n`);
      const expected = 10 * row.scale + row.offset + (row.gauge ? ATM : 0);
      expect(table.values[0]?.[0]).toBeCloseTo(expected, 9);
    }
  });
});

describe('parseCsv tells', () => {
  const HEAD = 'time[s],suctionPressure[psig],suctionLineTemp[degF]\n';
  const dropping = (text: string) => {
    const table = parseCsv(text, ATM);
    if (!table.ok) return csvErrorText(table.error);
    return { rows: table.value.times.length, notes: table.value.notes };
  };

  it.each(['1,118', '1', '1,118,"5', '1,11'])('of a last line cut off: %j', (cut) => {
    expect(dropping(`${HEAD}0,118,50\n${cut}`)).toEqual({
      rows: 1,
      notes: ['line 3: the last line was cut off and is left out; all above it is read'],
    });
  });

  it('nothing of a whole last line without a line end', () => {
    expect(dropping(`${HEAD}0,118,50\n1,118,50`)).toEqual({ rows: 2, notes: [] });
  });

  it('of a short row with a line end, or above another, that the table is wrong', () => {
    expect(dropping(`${HEAD}0,118,50\n1,118\n`)).toContain('line 3, column 3: the row has 2 cells');
    expect(dropping(`${HEAD}0,118\n1,118,50`)).toContain('line 2, column 3: the row has 2 cells');
  });

  it('where the first value out of range is, and its range in the unit of the header', () => {
    const { notes } = read('time[s],suctionPressure[bar]\n0,8\n1,118\n2,119\n');
    expect(read(`${HEAD_TWO}0,118\n1,-99.9\n2,118\n3,118\n`).notes[0]).toContain(
      '1 of 4 rows are, and count as gaps: check the sensor, its unit, and what the logger writes where there is no value',
    );
    expect(notes).toEqual([
      'line 3, column 2 (suctionPressure[bar]): 118 bar is out of range (0 to 65 bar); 2 of 3 rows are, and count as gaps: check its unit',
    ]);
    expect(read('time[s],suctionPressure[bar]\n0,8\n1,8\n2,65\n').notes).toEqual([]);
  });
});

describe('parseCsv tells of a unit that cannot be meant', () => {
  const notes = (head: string, value: number): readonly string[] =>
    read(`time[s],${head}\n0,${value}\n1,${value}\n2,${value}\n`).notes;

  it.each([
    ['returnAirTemp[degF]', 25, 'degC'],
    ['liquidPressure[psig]', 27, 'barg'],
    ['returnAirHumidity[percent]', 0.5, 'fraction'],
    ['liquidLineTemp[degC]', 95, 'degF'],
  ])('%s of %d, which would be usual in %s', (head, value, meant) => {
    expect(notes(head, value)).toEqual([
      expect.stringMatching(
        new RegExp(
          `column 2 \\(${head.replace('[', '\\[')}\\): the middle value is .*${meant}.*check`,
        ),
      ),
    ]);
  });

  it('and says nothing of what is usual, or unusual in every unit', () => {
    expect(notes('returnAirTemp[degF]', 75)).toEqual([]);
    expect(notes('liquidPressure[psig]', 390)).toEqual([]);
    expect(notes('suctionLineTemp[degF]', -40)).toEqual([]);
    expect(notes('compressorCurrent[A]', 0.5)).toEqual([]);
  });

  it('nor of a column of which it has said that it is out of range', () => {
    expect(notes('returnAirTemp[degC]', 77)).toHaveLength(1);
  });

  it('and of times that are in another unit', () => {
    const rows = Array.from({ length: 60 }, (_, i) => `${i / 60},118`).join('\n');
    expect(read(`${HEAD_TWO}${rows}\n`).notes).toEqual([
      'the values come 60 times a second, and no sensor is that fast: check that the times are in the unit of the header (time[s], time[min], time[ms])',
    ]);
    expect(read(`time[min],suctionPressure[psig]\n${rows}\n`).notes).toEqual([]);
  });
});

describe('parseCsv takes what people write', () => {
  const plain = read('time[s],suctionPressure[psig],suctionLineTemp[degF]\n0,118,50\n60,118,51\n');

  it.each([
    ['time [s] , suctionPressure [psig] , suctionLineTemp [ degF ]', '0,118,50', '60,118,51'],
    ['Time (s),Suction Pressure (PSIG),Suction line (°F)', '0,118,50', '60,118,51'],
    ['TIME[min],suction_pressure[psig],suction-line-temp[F]', '0,118,50', '1,118,51'],
    ['time[ms],suctionPressure[psig],suctionLineTemp[ºF]', '0,118,50', '60000,118,51'],
    ['time[s],suctionPressure[psig],suctionLineTemp[degF],,', '0,118,50,,', '60,118,51,,'],
    ['time[s],suctionPressure[psig],suctionLineTemp[degF]', '0,118,50,', '60,118,51,'],
  ])('in the header %s', (...lines) => {
    const table = read(`${lines.join('\n')}\n`);
    expect(table.channels).toEqual(plain.channels);
    expect([...table.times]).toEqual([...plain.times]);
    expect(table.values).toEqual(plain.values);
    expect(table.gaugeChannels).toEqual(['suctionPressure']);
  });

  it('where there is no value', () => {
    for (const mark of ['NaN', 'N/A', 'na', '#N/A', 'null', '-', '---']) {
      const table = read(`${HEAD_TWO}0,118\n1,${mark}\n2,119\n`);
      expect([...(table.values[0] ?? [])]).toEqual([psig(118), NaN, psig(119)]);
    }
  });

  it('with strokes in the date, the year first', () => {
    const table = read(
      'Timestamp,suctionPressure[psig]\n2026/06/01 10:00:00,118\n2026/06/01 10:00:02,118\n',
    );
    expect([...table.times]).toEqual([0, 2]);
    expect(table.origin).toBe('2026-06-01T10:00:00.000Z');
  });

  it('but no unit that could be two, and no channel by half its name', () => {
    expect(refused('time[s],suctionPressure[psi]\n0,118\n')).toContain('psi does not say');
    expect(refused('time[s],suction[psig]\n0,118\n')).toContain('there is no channel suction');
    expect(refused('time[s],Suction line (F),suctionLineTemp[degC]\n0,50,10\n')).toContain(
      'suctionLineTemp is already in column 2',
    );
  });
});

describe('parseCsv takes the signs of units', () => {
  it('percent and degrees, to the same numbers', () => {
    const signs = 'time[s],returnAirHumidity[%],returnAirTemp[°F],supplyAirTemp[°C]\n0,50,75,12\n';
    const words = signs.replace('%', 'percent').replace('°F', 'degF').replace('°C', 'degC');
    const [a, b] = [signs, words].map((text) => parseCsv(text, 101_325));
    expect(a?.ok && b?.ok && a.value.values).toEqual(b?.ok && b.value.values);
    expect(a?.ok && a.value.values[0]?.[0]).toBe(0.5);
  });

  it('but none for a quantity it does not fit', () => {
    expect(parseCsv('time[s],suctionPressure[%]\n0,1\n', 101_325)).toMatchObject({
      error: { detail: expect.stringContaining('suctionPressure cannot be in %') as string },
    });
  });
});

describe('parseCsv refuses, with the place', () => {
  it.each([
    ['', 'line 1: the first line must be the header'],
    ['suctionPressure[psig]\n1\n', 'line 1: there is no time column'],
    ['time[s]\n1\n', 'line 1: there is no channel column'],
    ['time[h],suctionPressure[psig]\n', 'line 1, column 1 (time[h]): the time column is'],
    ['time[],suctionPressure[psig]\n', 'line 1, column 1 (time[]): the time column is'],
    ['time[s],suction[psig]\n', 'line 1, column 2 (suction[psig]): there is no channel suction'],
    ['time[s],suctionPressure\n', 'line 1, column 2 (suctionPressure): is not a column we know'],
    [
      'time[s],suctionPressure[degF]\n',
      'line 1, column 2 (suctionPressure[degF]): suctionPressure cannot be in degF',
    ],
    [
      'time[s],suctionPressure[PSI]\n',
      'line 1, column 2 (suctionPressure[PSI]): suctionPressure cannot be in PSI: psi does not say whether above the atmosphere; it can be in psig',
    ],
    [
      'time[s],suctionPressure[psig],suctionPressure[kPa]\n',
      'line 1, column 3 (suctionPressure[kPa]): suctionPressure is already in column 2',
    ],
    ['time[s],suctionPressure[psig]\n', 'line 2: there is no row under the header'],
    ['time[s],suctionPressure[psig]\n0,118\n1\n', 'line 3, column 2: the row has 1 cells'],
    ['time[s],suctionPressure[psig]\n0,118,7\n', 'line 2, column 3: the row has 3 cells'],
    [
      'time[s],suctionPressure[psig]\n0,118,7\n',
      'separate the cells by semicolons or write points',
    ],
    ['time[s],suctionPressure[psig]\n# moved\n0,1\n', 'remove comment lines'],
    ['# logger\ntime[s],suctionPressure[psig]\n0,1\n', 'line 1: the first line must be the header'],
    [
      'time[s],suctionPressure[psig]\n0,118\n1,#REF!\n',
      "line 3, column 2 (suctionPressure[psig]): '#REF!' is not a number",
    ],
    [
      'time[s],suctionPressure[psig]\n0,1e307\n',
      "line 2, column 2 (suctionPressure[psig]): '1e307'",
    ],
    [
      'time[s],suctionPressure[psig]\n0,1e999\n',
      "line 2, column 2 (suctionPressure[psig]): '1e999'",
    ],
    ['time[s],suctionPressure[psig]\n,118\n', 'line 2, column 1 (time[s]): the time is missing'],
    [
      'time[s],suctionPressure[psig]\n65.5,118\n5,118\n',
      'line 3, column 1 (time[s]): the time goes back by more than 60 s: 5 s after 65.5 s; sort the rows by time, or give each session a file of its own',
    ],
    [
      'time,suctionPressure[psig]\n12:30,118\n',
      "line 2, column 1 (time): '12:30' is not an ISO 8601 time (write 2026-01-31T14:05:00): write the date before it",
    ],
    [
      'time,suctionPressure[psig]\n07/14/2026 01:05:00 PM,118\n',
      'write the year first, since day and month cannot be told apart',
    ],
    ['time,suctionPressure[psig]\n12.5,118\n', 'for seconds call the column time[s]'],
    ['time[s],suctionPressure[psig]\n2026-06-01T10:00:00,1\n', 'for dates call the column time'],
    ['time[s],suctionPressure[psig]\n1:30,118\n', 'write one number, or call the column time'],
    ['time[s],suctionPressure[psig]\n1784034300000,118\n', 'call the column time[ms]'],
    [
      'time[s],suctionPressure[psig]\n0,118\ntime[s],suctionPressure[psig]\n0,118\n',
      "line 3, column 1 (time[s]): 'time[s]' is a header again: give each session a file of its own",
    ],
    [
      'Site: 12 Elm St\n\ntime[s],suctionPressure[psig]\n0,118\n',
      'line 1: the first line must be the header, which stands in line 3: remove the lines above it',
    ],
    [
      'time[s],suctionPressure\ns,psig\n0,118\n',
      'line 1, column 2 (suctionPressure): is not a column we know without its unit: write suctionPressure[unit]; it can be in psig',
    ],
    [
      'time,suctionPressure[psig]\n2026-02-30T10:00:00Z,118\n',
      "line 2, column 1 (time): '2026-02-30T10:00:00Z' is not an ISO 8601",
    ],
    [
      'time,suctionPressure[psig]\n2026-06-01T10:00:00,118\n2026-06-01T10:00:01+02:00,118\n',
      'line 3, column 1 (time): some times have a zone and others have none',
    ],
    [
      'time,suctionPressure[psig]\n2026-10-25T02:59:59,118\n2026-10-25T02:00:00,118\n',
      'the time goes back by more than 60 s: -3599 s after 0 s; where the clock was changed, write the zone',
    ],
    ['t\0i\0m\0e\0', 'line 1: this is not text in UTF-8'],
    // A degree sign of Latin-1, as it comes out when read as UTF-8.
    ['time[s],suctionLineTemp[\uFFFDF]\n0,50', 'line 1: this is not text in UTF-8'],
    [
      'time[s];suctionPressure[psig]\n0;1.234,5\n',
      "line 2, column 2 (suctionPressure[psig]): '1.234,5'",
    ],
    ['time[s],suctionPressure[psig]\n0,"118\n', 'line'],
  ])('%j', (text, message) => {
    expect(refused(text)).toContain(message);
  });

  it('whatever text it is, with an error and not an exception', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary', maxLength: 200 }), (text) => {
        parseCsv(text, ATM);
        parseCsv(`time[s],suctionPressure[psig]\n${text}`, ATM);
      }),
      { numRuns: 500 },
    );
  });
});

describe('writeCsv', () => {
  it('reads back to the very same numbers', () => {
    const pressures = fc.double({ min: 1e5, max: 5e6, noNaN: true });
    const temperatures = fc.double({ min: 230, max: 400, noNaN: true });
    fc.assert(
      fc.property(fc.array(fc.tuple(pressures, temperatures), { minLength: 1 }), (rows) => {
        const samples: Sample[] = rows.flatMap(([p, t], i) => [
          { channel: 'suctionPressure', t: i / 3, value: p },
          { channel: 'suctionLineTemp', t: i / 3, value: t },
        ]);
        const text = writeCsv(samples, { channels: ['suctionPressure'], convertedWith: ATM });
        const table = read(text);
        const back = [...table.times].flatMap((_, row) => rowSamples(table, row));
        expect(back.map((s) => s.t)).toEqual(samples.map((s) => s.t));
        back.forEach((sample, i) => {
          const was = samples[i]!.value!;
          expect(Math.abs(sample.value! - was)).toBeLessThanOrEqual(Math.abs(was) * 2 ** -52);
        });
      }),
    );
  });

  it('in SI reads back to the last bit, whatever the channel', () => {
    const value = fc.constantFrom(...CHANNEL_KEYS).chain((channel) => {
      const { min, max } = channelRow(channel);
      return fc.record({
        channel: fc.constant(channel),
        value: fc.double({ min, max, noNaN: true }).map((v) => v + 0),
      });
    });
    fc.assert(
      fc.property(fc.array(value, { minLength: 1, maxLength: 30 }), (values) => {
        const samples = values.map((v, i): Sample => ({ ...v, t: i * 0.1 }));
        const table = read(writeCsv(samples, { channels: [], convertedWith: ATM }, 'si'));
        const back = [...table.times].flatMap((_, row) => rowSamples(table, row));
        expect(back.filter((s) => s.value !== null)).toEqual(samples);
      }),
    );
  });

  it('finds the exact text where there is one', () => {
    let exact = 0;
    for (let i = 0; i < 1000; i += 1) {
      const kelvin = 270 + i * 0.0731;
      const degF = valueInUnit(kelvin, 'degF', ATM);
      if ((degF + 459.67) / 1.8 === kelvin || degF * (1 / 1.8) + 459.67 / 1.8 === kelvin)
        exact += 1;
    }
    expect(exact).toBeGreaterThan(990);
  });

  it('writes gaps as empty cells and a second value at one time as another row', () => {
    const text = writeCsv(
      [
        { channel: 'compressorCurrent', t: 0, value: 9 },
        { channel: 'lineVoltage', t: 0, value: null, why: 'lost' },
        { channel: 'compressorCurrent', t: 0, value: 10 },
      ],
      { channels: [], convertedWith: ATM },
    );
    expect(text).toBe('time[s],compressorCurrent[A],lineVoltage[V]\n0,9,\n0,10,\n');
  });
});
