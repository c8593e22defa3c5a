import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { Atmosphere } from '../../../core/engine-types.ts';
import { createHandlers } from '../../../electron/bridge/handlers.ts';
import { say } from '../../../electron/bridge/errors.ts';
import type { SensorsView } from '../../../electron/bridge/views.ts';
import { sensorConfig } from '../../../electron/radio/assignments.ts';
import { systemClock } from '../../../electron/radio/clock.ts';
import { planRadio, radioRow } from '../../../electron/radio/radio-plan.ts';
import type { JobFacts } from '../../../electron/services/source-planner.ts';
import type { Sample } from '../../../core/stream/sample.ts';
import { createRadio, type Radio } from '../../../electron/radio/radio.ts';
import { registerSensorCommands } from '../../../electron/radio/sensor-commands.ts';
import { nobleWith } from '../../radio/noble-with.ts';
import { testUnit } from '../../support/job.ts';
import { FakeBindings, type FakeCharacteristic } from './fake-bindings.ts';
import { u32, until } from './fake-radio.ts';
import { inProcess } from './in-process.ts';

/*
 * The commands of the sensors screen, through the bridge's own registry, over injected bindings.
 */
const GAUGE = 'aa0000000001';
const CLAMPS = 'aa0000000002';
const BROADCAST = 'aa0000000003';
const PROBE = 'aa0000000004';
const CUSTOM = '8f1d00015a3c4e2b9d710c2a6b7e4f10';

const characteristic = (
  service: string,
  uuid: string,
  value: Buffer,
  text: string,
): FakeCharacteristic => ({
  service,
  uuid,
  properties: ['read', 'notify'],
  value,
  descriptors: text === '' ? {} : { '2901': Buffer.from(text) },
});
const i16 = (n: number) => u32(n < 0 ? n + 65_536 : n).subarray(0, 2);

let folder: string;
let radio: Radio;
let bindings: FakeBindings;
let ahead: number;
let atmosphere: Atmosphere;
let call: (name: string, args: object) => Promise<SensorsView>;
let refusal: (name: string, args: object) => Promise<string>;
const gauge = characteristic('181a', '2a6d', u32(3_000), 'Suction');
const suction = characteristic('181a', '2a6e', i16(1000), 'Suction line');
const liquid = characteristic('181a', '2a6e', i16(3500), 'Liquid line');
const current = characteristic('1815', '2aee', i16(800), 'Compressor');

beforeEach(() => {
  for (const c of [gauge, suction, liquid, current]) c.subscribed = false;
  gauge.value = u32(3_000);
  folder = mkdtempSync(join(tmpdir(), 'commands-'));
  ahead = 0;
  atmosphere = { pressure: 90_000, kind: 'altitude' };
  const now = () => systemClock.now() + ahead;
  const fake = inProcess(() => {
    bindings = new FakeBindings({
      handles: true,
      peripherals: [
        { id: GAUGE, name: 'Gauge', characteristics: [gauge] },
        { id: CLAMPS, name: 'Clamps', characteristics: [suction, liquid, current] },
        {
          id: BROADCAST,
          name: 'Room',
          characteristics: [],
          serviceData: [{ uuid: 'fcd2', data: Buffer.from('4002c409', 'hex') }],
        },
        {
          id: PROBE,
          name: 'XPROBE 9',
          characteristics: [
            characteristic(
              CUSTOM,
              CUSTOM.replace('0001', '0002'),
              Buffer.from('010200640001ccf0', 'hex'),
              '',
            ),
          ],
        },
      ],
    });
    return nobleWith(bindings);
  }, now);
  radio = createRadio({
    folder,
    spawn: fake.spawn,
    clock: { ...systemClock, now },
    atmosphere: () => atmosphere,
    modeOf: () => 'cooling',
    wallClock: () => '2026-05-01T10:00:00Z',
  });
  const handlers = createHandlers(() => undefined);
  registerSensorCommands(handlers, radio);
  call = async (name, args) => {
    const result = await handlers.dispatch(name, args);
    if (!result.ok) throw new Error(say(result.error));
    return result.value as SensorsView;
  };
  refusal = async (name, args) => {
    const result = await handlers.dispatch(name, args);
    return result.ok ? 'accepted' : say(result.error);
  };
});
afterEach(async () => {
  await radio.close();
  bindings.quiet();
  rmSync(folder, { recursive: true });
});

/** Looks at the sensors, as the screen does, until something shows. */
async function look(what: string, shows: (view: SensorsView) => boolean): Promise<SensorsView> {
  let view = await call('sensors.watch', { scan: true });
  await until(what, () => {
    void call('sensors.watch', { scan: true }).then((v) => (view = v));
    return shows(view);
  });
  return view;
}
const sensor = (view: SensorsView, id: string) => view.sensors.find((s) => s.id === id);
const value = (view: SensorsView, id: string, key: string) =>
  sensor(view, id)?.values.find((v) => v.key === key);

/** Adds the gauge and waits for its value. */
async function addGauge(): Promise<void> {
  await look('the gauge', (v) => sensor(v, GAUGE) !== undefined);
  await call('sensors.add', { id: GAUGE, name: null });
  await look('its value', (v) => value(v, GAUGE, '181a/2a6d/Suction')?.sent === 300);
}
const assignGauge = (over: object = {}) => ({
  id: GAUGE,
  key: '181a/2a6d/Suction',
  to: { unit: 'A', channel: 'suctionPressure' },
  reference: 'gauge',
  ...over,
});

describe('find, name and assign', () => {
  it('shows what is in sight and, once added, what it measures, with a hint', async () => {
    await addGauge();
    await call('sensors.rename', { id: GAUGE, name: 'Blue hose' });
    const view = await look('health', (v) => sensor(v, GAUGE)?.health?.state === 'good');
    expect(view.sensors[0]).toMatchObject({
      name: 'Blue hose',
      heardAs: 'Gauge',
      remembered: true,
    });
    expect(value(view, GAUGE, '181a/2a6d/Suction')).toMatchObject({
      label: 'Suction',
      hint: 'suctionPressure',
      sent: 300,
      assigned: null,
    });
    expect(sensor(view, BROADCAST)?.values[0]?.value).toBeCloseTo(298.15, 6);
    expect(sensor(view, BROADCAST)?.remembered).toBe(false);
  });

  it('assigns with the reference, and tells the session which channels are gauge', async () => {
    await addGauge();
    expect(await refusal('sensors.assign', assignGauge({ reference: null }))).toContain(
      'gauge or absolute',
    );
    const view = await call('sensors.assign', assignGauge());
    expect(value(view, GAUGE, '181a/2a6d/Suction')).toMatchObject({
      value: 90_300,
      reference: 'gauge',
    });
    expect(sensorConfig(radio.memory, 'A')).toEqual({
      gaugeChannels: ['suctionPressure'],
      accuracy: {},
    });
  });

  it('refuses what does not fit, a channel that is taken, and a stranger', async () => {
    await addGauge();
    const to = (channel: string) => assignGauge({ to: { unit: 'A', channel } });
    expect(await refusal('sensors.assign', to('suctionLineTemp'))).toContain(
      'does not take a pressure',
    );
    expect(await refusal('sensors.assign', to('vacuum'))).toContain('absolute sensor');
    expect(await refusal('sensors.assign', { ...assignGauge(), key: 'x' })).toContain(
      'no such value',
    );
    expect(await refusal('sensors.assign', { ...assignGauge(), id: 'zz' })).toContain(
      'add it first',
    );
    expect(await refusal('sensors.add', { id: 'zz', name: null })).toContain('not in sight');
    await call('sensors.assign', assignGauge());
    radio.memory.put({ ...radio.memory.get(GAUGE)!, id: 'twin', name: 'Twin', values: [] });
    const twin = { ...radio.memory.get(GAUGE)!.values[0]!, assigned: null };
    radio.memory.put({ ...radio.memory.get('twin')!, values: [twin] });
    expect(await refusal('sensors.assign', { ...assignGauge(), id: 'twin' })).toContain(
      'measured by Gauge',
    );
    await call('sensors.forget', { id: GAUGE });
    expect(await refusal('sensors.assign', { ...assignGauge(), id: 'twin' })).toBe('accepted');
  });

  it('takes a description that fits and says where another is wrong', async () => {
    await look('the probe', (v) => sensor(v, PROBE) !== undefined);
    await call('sensors.add', { id: PROBE, name: 'Probe' });
    const text = readFileSync(
      new URL('../../../fixtures/sensors/pressure-probe.json', import.meta.url),
      'utf8',
    );
    expect(
      await refusal('sensors.describe', { id: PROBE, text: text.replace('"psig"', '"psi"') }),
    ).toContain('values[0].unit');
    expect(
      await refusal('sensors.describe', { id: PROBE, text: text.replace('XPROBE', 'YPROBE') }),
    ).toContain('not meant for this sensor');
    await call('sensors.describe', { id: PROBE, text });
    const view = await look(
      'its value',
      (v) => (value(v, PROBE, 'described/pressure')?.sent ?? null) !== null,
    );
    expect(value(view, PROBE, 'described/pressure')).toMatchObject({
      label: 'Hose pressure',
      hint: 'suctionPressure',
    });
    await call('sensors.assign', { ...assignGauge(), id: PROBE, key: 'described/pressure' });
    expect(sensorConfig(radio.memory, 'A').accuracy.suctionPressure?.ofFullScale?.fraction).toBe(
      0.005,
    );
    const bare = await call('sensors.describe', { id: PROBE, text: null });
    expect(sensor(bare, PROBE)?.description).toBeNull();
    expect(sensorConfig(radio.memory, 'A').gaugeChannels).toEqual([]);
  });

  it('keeps a key to itself and refuses one of another form', async () => {
    await look('the room sensor', (v) => sensor(v, BROADCAST) !== undefined);
    await call('sensors.add', { id: BROADCAST, name: null });
    expect(await refusal('sensors.secret', { id: BROADCAST, bindKey: '12' })).toContain(
      '32 hexadecimal digits',
    );
    const bindKey = 'AB'.repeat(16);
    const view = await call('sensors.secret', { id: BROADCAST, bindKey });
    expect(sensor(view, BROADCAST)?.hasKey).toBe(true);
    expect(JSON.stringify(view).toLowerCase()).not.toContain(bindKey.toLowerCase());
    await look(
      'its plain broadcasts refused',
      (v) => sensor(v, BROADCAST)?.refusal === 'NOT_ENCRYPTED',
    );
  });
});

describe('a session over the sensors', () => {
  const job = (key: string): JobFacts => ({
    head: {
      id: 'j',
      title: 'Call',
      site: { name: '', address: '', altitude_m: 1000 },
      complaint: '',
      createdAt: '2026-05-01T10:00:00Z',
    },
    units: [testUnit({ key, name: '' })],
  });

  it('has the units with sensors, and raises gauge pressures by what its record says', async () => {
    await addGauge();
    expect(radioRow(radio).hint).toContain('assign');
    expect(planRadio(radio, job('A'))).toMatchObject({ error: { code: 'SENSOR_REFUSED' } });
    await call('sensors.assign', assignGauge());
    expect(planRadio(radio, job('B'))).toMatchObject({ error: { code: 'SENSOR_REFUSED' } });
    expect(radioRow(radio).hint).toContain('1 Bluetooth sensor is assigned');
    const planned = planRadio(radio, job('A'));
    if (!planned.ok) throw new Error(say(planned.error));
    const { source, label, units } = planned.value;
    const { gauge: stored } = units[0]!.config;
    expect(label).toBe('Gauge');
    expect(stored.channels).toEqual(['suctionPressure']);
    // ISO 2533 at 1000 m; the screen's own atmosphere is another one.
    expect(stored.convertedWith).toBeCloseTo(89_875, -1);
    const samples: Sample[] = [];
    source.onBatch((batch) => samples.push(...batch.samples));
    await source.start();
    expect(await refusal('sensors.assign', assignGauge({ reference: 'absolute' }))).toContain(
      'stop the recording first',
    );
    bindings.send(GAUGE, gauge, u32(3_000));
    await until('a sample', () => samples.length > 0);
    expect(samples[0]?.value).toBeCloseTo(300 + stored.convertedWith, 6);
    await source.stop();
    expect(await refusal('sensors.assign', assignGauge())).toBe('accepted');
  });
});

describe('zero check', () => {
  /** Sends the gauge's values over 12 s of the radio's clock. */
  async function settle(values: (i: number) => number): Promise<void> {
    for (let i = 0; i < 13; i += 1) {
      bindings.send(GAUGE, gauge, u32(values(i)));
      ahead += 1;
      await new Promise((resolve) => setTimeout(resolve, 10));
    }
  }

  it('stores the offset with its date and takes it off', async () => {
    await addGauge();
    await call('sensors.assign', assignGauge());
    expect(
      await refusal('sensors.zero', { id: GAUGE, key: '181a/2a6d/Suction', on: true }),
    ).toContain('zero was not set');
    await settle((i) => 30_000 + (i % 2));
    const view = await call('sensors.zero', { id: GAUGE, key: '181a/2a6d/Suction', on: true });
    const zeroed = value(view, GAUGE, '181a/2a6d/Suction');
    expect(zeroed?.zero?.at).toBe('2026-05-01T10:00:00Z');
    expect(zeroed?.zero?.offset_Pa).toBeCloseTo(3000, 0);
    expect(zeroed?.value).toBeCloseTo(90_000, 0);
    const off = await call('sensors.zero', { id: GAUGE, key: '181a/2a6d/Suction', on: false });
    expect(value(off, GAUGE, '181a/2a6d/Suction')?.zero).toBeNull();
  });

  it('refuses a gauge under pressure, a moving one, and an absolute one without barometer', async () => {
    await addGauge();
    const zero = { id: GAUGE, key: '181a/2a6d/Suction', on: true };
    expect(await refusal('sensors.zero', zero)).toContain('gauge or absolute');
    await call('sensors.assign', assignGauge());
    await settle(() => 8_000_000);
    expect(await refusal('sensors.zero', zero)).toContain('more than a zero error');
    ahead += 21;
    await settle((i) => 1_000 + i * 10_000);
    expect(await refusal('sensors.zero', zero)).toContain('moves by');
    await call('sensors.assign', assignGauge({ reference: 'absolute' }));
    atmosphere = { pressure: 101_325, kind: 'assumed' };
    ahead += 21;
    await settle(() => 1_013_250);
    expect(await refusal('sensors.zero', zero)).toContain('barometer');
  });
});

describe('swapped clamps', () => {
  it('asks after a minute of the wrong order, and changes nothing', async () => {
    await look('the clamps', (v) => sensor(v, CLAMPS) !== undefined);
    await call('sensors.add', { id: CLAMPS, name: null });
    await look('its values', (v) => (sensor(v, CLAMPS)?.values.length ?? 0) === 3);
    const assign = (key: string, channel: string) =>
      call('sensors.assign', { id: CLAMPS, key, to: { unit: 'A', channel }, reference: null });
    await assign('181a/2a6e/Suction line', 'liquidLineTemp');
    await assign('181a/2a6e/Liquid line', 'suctionLineTemp');
    await assign('1815/2aee/Compressor', 'compressorCurrent');
    await until('subscribed', () => suction.subscribed && liquid.subscribed && current.subscribed);
    const before = JSON.stringify(radio.memory.all());
    for (let i = 0; i < 15; i += 1) {
      bindings.send(CLAMPS, current, i16(800));
      bindings.send(CLAMPS, suction, i16(1000));
      bindings.send(CLAMPS, liquid, i16(3500));
      ahead += 5;
      await new Promise((resolve) => setTimeout(resolve, 10));
    }
    const view = radio.view();
    expect(view.questions).toEqual([
      {
        unit: 'A',
        code: 'CLAMPS_LOOK_SWAPPED',
        channels: ['suctionLineTemp', 'liquidLineTemp'],
        excess: expect.closeTo(25, 6) as number,
      },
    ]);
    expect(JSON.stringify(radio.memory.all())).toBe(before);
  });
});
