import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { fromHex } from '../../../../core/radio/bytes.ts';
import { accuracyInSI, decodeDescribed } from '../../../../core/radio/described-value.ts';
import {
  describes,
  parseSensorDescription,
  type SensorDescription,
} from '../../../../core/radio/description.ts';
import { PASCAL_PER_PSI } from '../../../../core/units/pressure.ts';

const hex = (text: string) => fromHex(text.replaceAll(' ', ''))!;
const folder = new URL('../../../../fixtures/sensors/', import.meta.url);

function load(name: string): SensorDescription {
  const parsed = parseSensorDescription(readFileSync(new URL(name, folder), 'utf8'));
  if (!parsed.ok) throw new Error(JSON.stringify(parsed.error));
  return parsed.value;
}

type Json = Record<string | number, unknown>;

/** The probe's text with what stands at a path replaced, or left out where it is undefined. */
function changed(path: readonly (string | number)[], value: unknown): string {
  const draft = JSON.parse(readFileSync(new URL('pressure-probe.json', folder), 'utf8')) as Json;
  const parent = path.slice(0, -1).reduce((at, key) => at[key] as Json, draft);
  parent[path.at(-1)!] = value;
  return JSON.stringify(draft);
}

function issues(text: string): readonly { path: string; message: string }[] {
  const parsed = parseSensorDescription(text);
  if (parsed.ok || parsed.error.code !== 'BAD_DESCRIPTION') throw new Error('expected issues');
  return parsed.error.issues;
}

describe('sensor descriptions', () => {
  it('accepts every example that is shipped', () => {
    const names = readdirSync(folder).filter((name) => name.endsWith('.json'));
    expect(names.length).toBeGreaterThanOrEqual(2);
    for (const name of names) expect(load(name).values.length).toBeGreaterThan(0);
  });

  it('reads a value, its sequence and its clock out of the bytes', () => {
    const [pressure, clamp] = load('pressure-probe.json').values;
    // sequence 258, time 10.0 s, 118 000 mpsi
    const decoded = decodeDescribed(pressure!, hex('0102 0064 0001ccf0'));
    expect(decoded).toEqual({
      ok: true,
      value: {
        measurement: {
          quantity: 'pressure',
          value: expect.closeTo(118 * PASCAL_PER_PSI, 3) as number,
        },
        seq: 258,
        deviceTime_s: expect.closeTo(10, 9) as number,
      },
    });
    const clampBytes = new Uint8Array(4);
    new DataView(clampBytes.buffer).setFloat32(0, 50, true);
    const temperature = decodeDescribed(clamp!, clampBytes);
    expect(temperature.ok && temperature.value.measurement.value).toBeCloseTo(283.15, 4);
  });

  it('takes the listed raw values and floats that are no number as not known', () => {
    const [pressure, clamp] = load('pressure-probe.json').values;
    const missing = decodeDescribed(pressure!, hex('0102 0064 80000000'));
    expect(missing.ok && missing.value.measurement.value).toBeNull();
    for (const special of ['0000c07f', '0000807f', '000080ff']) {
      const decoded = decodeDescribed(clamp!, hex(special));
      expect(decoded.ok && decoded.value.measurement.value).toBeNull();
    }
  });

  it('refuses short packets, values outside the limits and values outside physics', () => {
    const [pressure, clamp] = load('pressure-probe.json').values;
    expect(decodeDescribed(pressure!, hex('0102 0064 0001cc'))).toMatchObject({
      error: { code: 'TOO_SHORT', need: 8, have: 7 },
    });
    expect(decodeDescribed(pressure!, hex('0102 0064 7fffffff'))).toMatchObject({
      error: { code: 'OUT_OF_RANGE' },
    });
    const cold = new Uint8Array(4);
    new DataView(cold.buffer).setFloat32(0, -500, true);
    expect(decodeDescribed(clamp!, cold)).toMatchObject({ error: { code: 'OUT_OF_RANGE' } });
  });

  it('brings the accuracy to SI', () => {
    const [pressure, clamp] = load('pressure-probe.json').values;
    expect(accuracyInSI(pressure!)).toEqual({
      ofFullScale: {
        fraction: 0.005,
        fullScale: expect.closeTo(800 * PASCAL_PER_PSI, 3) as number,
      },
    });
    expect(accuracyInSI(clamp!)).toEqual({
      ofReading: 0.002,
      absolute: expect.closeTo(0.5, 9) as number,
    });
  });

  it.each([
    [['values', 0, 'unit'], 'psi', 'values[0].unit', 'psig'],
    [['values', 0, 'from', 'service'], '2A6Z', 'values[0].from.service', '2A6D'],
    [['values', 0, 'reference'], undefined, 'values[0].reference', 'gauge'],
    [['values', 0, 'reference'], 'absolute', 'values[0].reference', 'psig is a gauge unit'],
    [['values', 1, 'key'], 'pressure', 'values[1].key', '"pressure" is used twice'],
    [['values', 1, 'channelHint'], 'scaleWeight', 'values[1].channelHint', 'does not take'],
    [['values', 0, 'accuracy', 'fullScale'], undefined, 'values[0].accuracy.fullScale', 'needs'],
    [['values', 0, 'sequence', 'type'], 'float32', 'values[0].sequence.type', 'whole number'],
    [['values', 0, 'accuracy'], {}, 'values[0].accuracy', 'at least one of ofReading'],
    [['values', 0, 'scale'], 0, 'values[0].scale', 'every value the same'],
    [['match'], {}, 'match', 'at least one'],
  ])('says that %j cannot be %j, where and why', (path, value, where, why) => {
    expect(issues(changed(path, value))).toEqual([
      { path: where, message: expect.stringContaining(why) as string },
    ]);
  });

  it('says so where a file is no description at all', () => {
    expect(issues('[]')[0]?.path).toBe('(the whole file)');
    expect(parseSensorDescription('{"format": ')).toMatchObject({ error: { code: 'NOT_JSON' } });
  });

  it('knows no time where the clock of the sensor overflows its scale', () => {
    const parsed = parseSensorDescription(
      changed(['values', 0, 'deviceTime'], { byte: 8, type: 'float64', scale: 1e10 }),
    );
    if (!parsed.ok) throw new Error('expected a description');
    const bytes = new Uint8Array(16);
    new DataView(bytes.buffer).setFloat64(8, 1e300, true);
    const decoded = decodeDescribed(parsed.value.values[0]!, bytes);
    expect(decoded).toMatchObject({ ok: true, value: { deviceTime_s: null } });
  });

  it('recognises a sensor by every condition that is given', () => {
    const air = load('air-broadcast.json');
    expect(describes(air, { name: 'XAIR 7', services: [], company: 65535 })).toBe(true);
    expect(describes(air, { name: 'XAIR 7', services: [], company: 1 })).toBe(false);
    expect(describes(air, { name: null, services: [], company: 65535 })).toBe(false);
  });
});
