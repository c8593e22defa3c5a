import { readFileSync } from 'node:fs';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { parseSensorDescription } from '../../core/radio/description.ts';
import { PASCAL_PER_PSI } from '../../core/units/pressure.ts';
import { ATMOSPHERE, le, makeRig, remember, sleep, until, type Rig } from './rig.ts';
import { World } from './world.ts';

/*
 * noble's own HCI, L2CAP, ATT and GATT code in the real radio process, against the Bumble stack
 * (https://github.com/google/bumble) in another, over TCP. The virtual sensors encode their values
 * with their own Python code.
 */
const PYTHON = process.env['RADIO_PYTHON'] ?? '';
const MANIFOLD = 'f00000000001';
const SECOND = 'f00000000002';
const SCALE = 'f00000000003';
const AIR = 'f00000000004';
const SECRET = 'f00000000005';
const PROBE = 'f00000000006';
const LOCKED = 'f00000000007';
const KEY = '231d39c1d7cc1ab1aee224cd096db932';

const SUCTION = '181a/2a6d/Suction pressure~lower';
const LIQUID = '181a/2a6d/Liquid pressure~upper';
const SUCTION_LINE = '181a/2a6e/Suction line~lower';
const LIQUID_LINE = '181a/2a6e/Liquid line~upper';
const MANIFOLD_CHANNELS = {
  [SUCTION]: 'suctionPressure',
  [LIQUID]: 'liquidPressure',
  [SUCTION_LINE]: 'suctionLineTemp',
  [LIQUID_LINE]: 'liquidLineTemp',
} as const;

let world: World;
let rig: Rig;

beforeAll(async () => {
  world = await World.start(PYTHON);
});
afterAll(async () => world.stop());
beforeEach(async () => {
  rig = await makeRig(world.port);
});
afterEach(async () => rig.end());

/** Starts with the manifold assigned, and waits for its first values. */
async function startManifold(): Promise<void> {
  remember(rig, MANIFOLD, MANIFOLD_CHANNELS);
  await rig.source.start();
  await until('first values of the manifold', () => rig.of('liquidLineTemp').length > 0);
}

const last = (channel: Parameters<Rig['of']>[0]) => rig.of(channel).at(-1);

describe('discovery', () => {
  it('finds every sensor with its name, signal and kind', async () => {
    const release = rig.hub.hold();
    const stopScan = rig.hub.scan();
    await until('all seven in sight', () => rig.hub.sensors().length >= 7);
    expect(rig.hub.sensor(MANIFOLD)).toMatchObject({ name: 'Manifold A', services: ['181a'] });
    expect(rig.hub.sensor(SCALE)).toMatchObject({ name: 'Scale', connectable: true });
    const thermometer = rig.hub.sensor(AIR);
    expect(thermometer).toMatchObject({ broadcasts: true, battery_percent: 88, keyNeeded: false });
    expect(thermometer?.values.get('bthome/02/1')?.value).toBeCloseTo(273.15 + 25.06, 6);
    expect(thermometer?.values.get('bthome/03/1')?.value).toBeCloseTo(0.5055, 6);
    expect(rig.hub.sensor(SECRET)?.keyNeeded).toBe(true);
    expect(rig.hub.sensor(MANIFOLD)?.rssi_dBm).toBe(-50);
    stopScan();
    await release();
  });

  it('tells four characteristics of two kinds apart by their descriptors', async () => {
    remember(rig, MANIFOLD, {});
    await rig.source.start();
    await until('the table', () => (rig.hub.sensor(MANIFOLD)?.values.size ?? 0) >= 4);
    const live = rig.hub.sensor(MANIFOLD);
    expect([...(live?.values.values() ?? [])].map((v) => [v.key, v.hint])).toEqual([
      [SUCTION, 'suctionPressure'],
      [LIQUID, 'liquidPressure'],
      [SUCTION_LINE, 'suctionLineTemp'],
      [LIQUID_LINE, 'liquidLineTemp'],
    ]);
    expect(live?.values.get(SUCTION)?.uncertainty).toBeCloseTo(0.01, 9);
    expect(Object.fromEntries(live?.info ?? [])).toEqual({
      maker: 'Nobody in particular',
      model: 'Virtual',
    });
    await until('battery', () => live?.battery_percent === 83);
  });
});

describe('values', () => {
  it('takes notifications of each characteristic to its own channel, gauge made absolute', async () => {
    await startManifold();
    await world.order('manifold', 'send', { key: 'pressure1', hex: le.u32(8_200_000) });
    await world.order('manifold', 'send', { key: 'pressure2', hex: le.u32(25_000_000) });
    await world.order('manifold', 'send', { key: 'temperature1', hex: le.i16(-550) });
    await world.order('manifold', 'send', { key: 'temperature2', hex: le.i16(3615) });
    await until('the last of them', () => last('liquidLineTemp')?.value === 36.15 + 273.15);
    expect(last('suctionPressure')?.value).toBeCloseTo(820_000 + ATMOSPHERE, 6);
    expect(last('liquidPressure')?.value).toBeCloseTo(2_500_000 + ATMOSPHERE, 6);
    expect(last('suctionLineTemp')?.value).toBeCloseTo(267.65, 6);
    expect(rig.hub.health(rig.memory.get(MANIFOLD)!)).toBe('good');
    await until(
      'told',
      () => rig.health.at(-1)?.alert === null && rig.health.at(-1)?.state === 'running',
    );
  });

  it('holds several sensors at once, one of them with two services of one kind', async () => {
    remember(rig, SECOND, {
      [SUCTION]: 'testPressure',
      [LIQUID_LINE]: 'drierInletTemp',
    });
    remember(rig, SCALE, { '181d/2a9d/1': 'scaleWeight' });
    await startManifold();
    await until('the others linked', () =>
      [SECOND, SCALE].every((id) => rig.hub.sensor(id)?.link === 'connected'),
    );
    await until('values of the second', () => rig.of('drierInletTemp').length > 0);
    await world.order('second', 'send', { key: 'pressure1', hex: le.u32(1_234_560) });
    await world.order('scale', 'send', { key: 'weight', hex: '00d007' });
    await until('both', () => last('testPressure') && last('scaleWeight'));
    await until('the new pressure', () => last('testPressure')?.value === 123_456 + ATMOSPHERE);
    expect(last('scaleWeight')?.value).toBeCloseTo(10, 9);
    expect(last('suctionPressure')?.value).not.toBe(last('testPressure')?.value);
  });

  it('reads a scale that only indicates: pounds, and a weighing that failed', async () => {
    remember(rig, SCALE, { '181d/2a9d/1': 'scaleWeight' });
    await rig.source.start();
    await until('linked', () => rig.hub.sensor(SCALE)?.battery_percent !== null);
    await until('subscribed', async () => {
      await world.order('scale', 'send', { key: 'weight', hex: '01e803' });
      return rig.of('scaleWeight').length > 0;
    });
    expect(rig.of('scaleWeight')[0]?.value).toBeCloseTo(4.5359237, 9);
    await world.order('scale', 'send', { key: 'weight', hex: '00ffff' });
    await until('the gap', () => last('scaleWeight')?.value === null);
    expect(last('scaleWeight')).toMatchObject({ value: null, why: 'notKnown' });
  });

  it('follows a description: subscribes to one value and asks for another', async () => {
    const file = new URL('../../fixtures/sensors/pressure-probe.json', import.meta.url);
    const parsed = parseSensorDescription(readFileSync(file, 'utf8'));
    const description = parsed.ok ? parsed.value : null;
    remember(
      rig,
      PROBE,
      { 'described/pressure': 'suctionPressure', 'described/clamp': 'suctionLineTemp' },
      { description },
    );
    await rig.source.start();
    await until('three polled values', () => rig.of('suctionLineTemp').length >= 3);
    const [first, second, third] = rig.of('suctionLineTemp').map((s) => s.t);
    expect(second! - first!).toBeGreaterThan(1.8);
    expect(third! - second!).toBeLessThan(2.8);
    expect(last('suctionLineTemp')?.value).toBeCloseTo(283.15, 3);
    await world.order('probe', 'send', { key: 'pressure', hex: '010200640001ccf0' });
    await until('the notification', () => last('suctionPressure')?.seq === 258);
    expect(last('suctionPressure')?.value).toBeCloseTo(118 * PASCAL_PER_PSI + ATMOSPHERE, 1);
    expect(last('suctionPressure')?.deviceTime_s).toBeCloseTo(10, 9);
  });

  it('pairs with a sensor that answers only over an encrypted link', async () => {
    remember(rig, LOCKED, { '181a/2a6e/1': 'returnAirTemp' });
    await rig.source.start();
    await until('its value', () => last('returnAirTemp')?.value === 21.5 + 273.15);
  });

  it('asks again where a subscription is silent because nothing changes', async () => {
    await startManifold();
    const before = rig.of('suctionPressure').length;
    await until(
      'a value without any notification',
      () => rig.of('suctionPressure').length > before,
    );
  });
});

describe('broadcasts', () => {
  it('counts each packet id once, and records it', async () => {
    const release = rig.hub.hold();
    const stopScan = rig.hub.scan();
    await until('in sight', () => rig.hub.sensor(AIR)?.broadcasts);
    remember(rig, AIR, { 'bthome/02/1': 'returnAirTemp' });
    await rig.source.start();
    for (let n = 1; n <= 5; n += 1) {
      await world.order('air', 'broadcast', {
        centidegrees: 2400 + n,
        centipercent: 5000,
        packetId: n,
      });
      await sleep(0.6);
    }
    const heard = rig.of('returnAirTemp').filter((s) => s.seq !== undefined);
    expect(heard.map((s) => s.seq)).toEqual([1, 2, 3, 4, 5]);
    expect(heard.map((s) => s.value)).toEqual(
      [1, 2, 3, 4, 5].map((n) => expect.closeTo(273.15 + 24 + n / 100, 6) as number),
    );
    stopScan();
    await release();
  });

  it('opens encrypted ones with the key, and refuses what is replayed or plain', async () => {
    remember(
      rig,
      SECRET,
      { 'bthome/02/1': 'supplyAirTemp' },
      {
        reach: 'broadcast',
        bindKey: KEY,
        address: SECRET,
      },
    );
    await rig.source.start();
    await world.order('secret', 'broadcast', { centidegrees: 1311, centipercent: 9000 });
    await until('the temperature', () => last('supplyAirTemp')?.value === 13.11 + 273.15);
    const old = await world.order('secret', 'serviceData');
    await world.order('secret', 'broadcast', { centidegrees: 1322, centipercent: 9000 });
    await until('the next', () => last('supplyAirTemp')?.value === 13.22 + 273.15);
    const count = rig.of('supplyAirTemp').length;
    const refused = (why: string) =>
      until(`refused as ${why}`, () => rig.hub.sensor(SECRET)?.refusal === why);
    await world.order('secret', 'raw', { hex: old });
    await refused('REPLAYED');
    await world.order('secret', 'raw', { hex: '4002ca09' });
    await refused('NOT_ENCRYPTED');
    await world.order('secret', 'raw', { hex: `41${'00'.repeat(14)}` });
    await refused('DECRYPTION_FAILED');
    expect(rig.of('supplyAirTemp')).toHaveLength(count);
    expect(rig.hub.health(rig.memory.get(SECRET)!)).toBe('keyNeeded');
  });

  it('refuses broken broadcasts and takes the next right one', async () => {
    remember(rig, AIR, { 'bthome/02/1': 'returnAirTemp' }, { reach: 'broadcast' });
    await rig.source.start();
    const refusals: string[] = [];
    for (const hex of ['40', '4002', '2002ca09', '4202ca09', '40020080']) {
      await world.order('air', 'raw', { hex });
      await until(`refusal of ${hex}`, () => {
        const refusal = rig.hub.sensor(AIR)?.refusal ?? null;
        return refusal !== null && refusal !== refusals.at(-1);
      });
      refusals.push(rig.hub.sensor(AIR)?.refusal ?? '');
    }
    expect(refusals).toEqual([
      'EMPTY',
      'TRUNCATED',
      'UNSUPPORTED_VERSION',
      'TOO_SHORT',
      'OUT_OF_RANGE',
    ]);
    await until('the gap', () => last('returnAirTemp')?.value === null);
    expect(last('returnAirTemp')).toMatchObject({ why: 'implausible' });
    await world.order('air', 'raw', { hex: '4002ca09' });
    await until('the right one', () => last('returnAirTemp')?.value === 25.06 + 273.15);
  });
});

describe('trouble', () => {
  it('leaves a gap when the link is lost, and goes on when the sensor returns', async () => {
    await startManifold();
    const back = world.order('manifold', 'vanish', { seconds: 3 });
    await until('the gap', () => last('suctionPressure')?.value === null);
    expect(last('suctionPressure')).toMatchObject({ why: 'lost' });
    expect(rig.hub.health(rig.memory.get(MANIFOLD)!)).toBe('lost');
    expect(rig.health.at(-1)?.state).toBe('reconnecting');
    await back;
    await until('values again', () => last('suctionPressure')?.value !== null, 30);
    expect(rig.of('suctionPressure').filter((s) => s.value === null)).toHaveLength(1);
    const times = rig.of('suctionPressure').map((s) => s.t);
    expect(times).toEqual([...times].sort((a, b) => a - b));
  });

  it('says that a battery is low until it is not', async () => {
    remember(rig, SCALE, { '181d/2a9d/1': 'scaleWeight' });
    await rig.source.start();
    await until('the battery', () => rig.hub.sensor(SCALE)?.battery_percent === 9);
    await until('low', async () => {
      await world.order('scale', 'send', { key: 'weight', hex: '00d007' });
      return rig.hub.health(rig.memory.get(SCALE)!) === 'batteryLow';
    });
    await until('told by the source', () => rig.health.at(-1)?.alert?.code === 'SENSOR_batteryLow');
    await world.order('scale', 'send', { key: 'battery', hex: '5a' });
    await until('good again', () => rig.hub.health(rig.memory.get(SCALE)!) === 'good');
    await world.order('scale', 'send', { key: 'battery', hex: '09' });
  });

  it('turns garbage into gaps of that channel only', async () => {
    await startManifold();
    const garbage = ['', '00', '000000', '0000000000', 'ff'.repeat(20)];
    for (const hex of garbage) await world.order('manifold', 'send', { key: 'pressure1', hex });
    // Outside the sensor's own valid range of -40 to 150 °C, and "not known".
    await world.order('manifold', 'send', { key: 'temperature2', hex: le.i16(16_000) });
    await world.order('manifold', 'send', { key: 'temperature1', hex: '0080' });
    await until('the last gap', () => last('suctionLineTemp')?.value === null);
    expect(last('suctionLineTemp')).toMatchObject({ why: 'notKnown' });
    expect(last('liquidLineTemp')).toMatchObject({ value: null, why: 'implausible' });
    const gaps = rig.of('suctionPressure').filter((s) => s.value === null);
    expect(gaps.map((s) => 'why' in s && s.why)).toEqual(garbage.map(() => 'implausible'));
    expect(rig.of('liquidPressure').every((s) => s.value !== null)).toBe(true);
    await world.order('manifold', 'send', { key: 'pressure1', hex: le.u32(8_300_000) });
    await until('a right value', () => last('suctionPressure')?.value === 830_000 + ATMOSPHERE);
    expect(rig.hub.sensor(MANIFOLD)?.link).toBe('connected');
  });

  it('survives packets that the attribute protocol does not know, and so do the other sensors', async () => {
    remember(rig, SCALE, { '181d/2a9d/1': 'scaleWeight' });
    await startManifold();
    await until('the scale', () => rig.hub.sensor(SCALE)?.battery_percent !== null);
    // Cut notifications and indications, answers nobody asked for, an unknown opcode, nothing.
    for (const hex of [
      '1b',
      '1b01',
      '1d',
      '1dff',
      '01',
      '0b',
      '0900',
      '05ff',
      '11',
      '7f',
      'ff',
      '',
    ]) {
      await world.order('manifold', 'att', { hex });
    }
    await sleep(0.5);
    const count = rig.of('scaleWeight').length;
    await until('the scale still heard', async () => {
      await world.order('scale', 'send', { key: 'weight', hex: '00d007' });
      return rig.of('scaleWeight').length > count;
    });
    await until('the manifold still heard', async () => {
      await world.order('manifold', 'send', { key: 'pressure1', hex: le.u32(8_888_880) });
      return last('suctionPressure')?.value === 888_888 + ATMOSPHERE;
    });
    expect(rig.hub.restarts).toBe(0);
  });

  it('keeps channels with their sensors when a sensor turns its table round', async () => {
    await startManifold();
    await world.order('manifold', 'change');
    await until('the gap', () => last('suctionPressure')?.value === null, 10);
    await until('the new table', () => rig.hub.sensor(MANIFOLD)?.values.has('181a/2a6f/1'), 30);
    await until('values again', () => last('liquidLineTemp')?.value !== null, 30);
    await world.order('manifold', 'send', { key: 'pressure1', hex: le.u32(7_777_770) });
    await world.order('manifold', 'send', { key: 'pressure2', hex: le.u32(22_222_220) });
    await until('both', () => last('liquidPressure')?.value === 2_222_222 + ATMOSPHERE);
    expect(last('suctionPressure')?.value).toBeCloseTo(777_777 + ATMOSPHERE, 6);
  });

  it('starts a broken radio process anew and puts the gap on record', async () => {
    await startManifold();
    rig.killProcess();
    await until('the gap', () => last('suctionPressure')?.value === null, 5);
    expect(last('suctionPressure')).toMatchObject({ why: 'restarted' });
    await until('values again', () => last('suctionPressure')?.value !== null, 30);
    expect(rig.hub.restarts).toBe(1);
    await until('well again', () => rig.health.at(-1)?.alert === null);
  });

  it('delivers nothing after it stopped, and breaks its links', async () => {
    await startManifold();
    await rig.source.stop();
    const count = rig.samples.length;
    await until('free again', async () => !(await world.order('manifold', 'connected')));
    await world.order('manifold', 'send', { key: 'pressure1', hex: le.u32(1) });
    await sleep(0.5);
    expect(rig.samples).toHaveLength(count);
    expect(rig.health.at(-1)).toEqual({ state: 'off', alert: null });
  });
});
