import { mkdtempSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { SensorStore, type SensorRecord } from '../../../../electron/radio/sensor-store.ts';

let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'sensors-'));
});
afterEach(() => rmSync(folder, { recursive: true }));

const record: SensorRecord = {
  id: 'aa0000000001',
  name: 'Blue hose',
  address: 'aa0000000001',
  reach: 'link',
  bindKey: '00112233445566778899aabbccddeeff',
  description: null,
  values: [
    {
      key: '181a/2a6d/1',
      label: 'Pressure',
      quantity: 'pressure',
      assigned: { unit: 'A', channel: 'suctionPressure' },
      reference: 'gauge',
      zero: { offset_Pa: 310, at: '2026-05-01T10:00:00Z', samples: 20 },
      accuracy: { ofFullScale: { fraction: 0.01, fullScale: 5.5e6 } },
    },
  ],
  addedAt: '2026-05-01T09:00:00Z',
};

describe('sensor memory', () => {
  it('remembers over a restart, readable by the user only', () => {
    const store = SensorStore.open(join(folder, 'new'));
    let changes = 0;
    const off = store.onChange(() => (changes += 1));
    store.put(record);
    store.put({ ...record, name: 'Low side' });
    off();
    store.put({ ...record, id: 'other' });
    expect(changes).toBe(2);
    const again = SensorStore.open(join(folder, 'new'));
    expect(again.problem).toBeNull();
    expect(again.get(record.id)).toEqual({ ...record, name: 'Low side' });
    expect(again.all()).toHaveLength(2);
    again.remove('other');
    expect(
      SensorStore.open(join(folder, 'new'))
        .all()
        .map((s) => s.id),
    ).toEqual([record.id]);
    if (process.platform !== 'win32') {
      expect(statSync(join(folder, 'new', 'sensors.json')).mode & 0o077).toBe(0);
    }
    expect(readdirSync(join(folder, 'new'))).toEqual(['sensors.json']);
  });

  it.each([
    ['half a file', '{"format":"sensor-memory","version":1,"sensors":[{"id'],
    ['another format', '{"format":"x","version":1,"sensors":[]}'],
    [
      'a wrong field',
      JSON.stringify({
        format: 'sensor-memory',
        version: 1,
        sensors: [{ ...record, reach: 'wire' }],
      }),
    ],
  ])('sets %s aside, says where, and starts empty', (_name, text) => {
    writeFileSync(join(folder, 'sensors.json'), text);
    const store = SensorStore.open(folder);
    expect(store.all()).toEqual([]);
    expect(store.problem).toContain('sensors.json.damaged-');
    const kept = readdirSync(folder).find((name) => name.includes('damaged'))!;
    expect(readFileSync(join(folder, kept), 'utf8')).toBe(text);
    store.put(record);
    expect(readFileSync(join(folder, kept), 'utf8')).toBe(text);
  });

  it('refuses a record of another form and stays as it was', () => {
    const store = SensorStore.open(folder);
    store.put(record);
    expect(() => store.put({ ...record, name: '' })).toThrow();
    expect(store.get(record.id)?.name).toBe('Blue hose');
  });

  it('stays as it was when the disk says no', () => {
    const store = SensorStore.open(folder);
    store.put(record);
    rmSync(folder, { recursive: true });
    writeFileSync(folder, 'a file where the folder was');
    expect(() => store.remove(record.id)).toThrow();
    expect(store.get(record.id)).toEqual(record);
  });
});
