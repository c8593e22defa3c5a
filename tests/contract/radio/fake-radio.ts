import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { decryptCcm } from '../../../electron/radio/ccm.ts';
import { systemClock, type RadioClock } from '../../../electron/radio/clock.ts';
import { RadioHub } from '../../../electron/radio/hub.ts';
import { RadioSource } from '../../../electron/radio/radio-source.ts';
import { SensorStore, type RememberedValue } from '../../../electron/radio/sensor-store.ts';
import type { SourceRig } from '../source-contract.ts';
import type { ChannelKey } from '../../../core/stream/channels.ts';
import { nobleWith } from '../../radio/noble-with.ts';
import { FakeBindings, type FakeCharacteristic } from './fake-bindings.ts';
import { inProcess } from './in-process.ts';

export const UNIT = 'u1';
export const MANIFOLD = 'aa0000000001';

/** Little-endian bytes. */
export const u32 = (n: number): Buffer => {
  const buffer = Buffer.alloc(4);
  buffer.writeUInt32LE(n);
  return buffer;
};

const pressure = (text: string, value: number): FakeCharacteristic => ({
  service: '181a',
  uuid: '2a6d',
  properties: ['read', 'notify'],
  value: u32(value),
  descriptors: { '2901': Buffer.from(text) },
});

/** A whole radio over fake bindings, in one process, with a memory on the disk. */
export function fakeRadio(
  over: {
    handles?: boolean;
    state?: string;
    failure?: string;
    load?: () => never;
    clock?: RadioClock;
    startAt_s?: number;
  } = {},
) {
  const suction = pressure('Suction pressure', 8_000_000);
  const liquid = pressure('Liquid pressure', 24_000_000);
  const clock = over.clock ?? systemClock;
  const bindings: FakeBindings[] = [];
  const peripherals = [{ id: MANIFOLD, name: 'Manifold', characteristics: [suction, liquid] }];
  const radio = inProcess(
    () => {
      over.load?.();
      for (const c of [suction, liquid]) c.subscribed = false;
      const made = new FakeBindings({ peripherals, handles: true, ...over });
      bindings.push(made);
      return nobleWith(made);
    },
    () => clock.now(),
  );
  const folder = mkdtempSync(join(tmpdir(), 'fake-radio-'));
  const memory = SensorStore.open(folder);
  const hub = new RadioHub({ spawn: radio.spawn, clock, memory, decrypt: decryptCcm });
  const source = new RadioSource({
    hub,
    memory,
    clock,
    atmosphere: () => 100_000,
    ...(over.startAt_s === undefined ? {} : { startAt_s: over.startAt_s }),
  });
  const send = (c: FakeCharacteristic, value: Buffer) => bindings.at(-1)?.send(MANIFOLD, c, value);
  return {
    source,
    hub,
    memory,
    radio,
    folder,
    suction,
    liquid,
    bindings: () => bindings.at(-1)!,
    send,
    end: async () => {
      await source.stop();
      for (const b of bindings) b.quiet();
      rmSync(folder, { recursive: true });
    },
  };
}

export type FakeRadio = ReturnType<typeof fakeRadio>;

/** Remembers the manifold with its two pressures assigned. */
export function assignManifold(
  memory: SensorStore,
  keys: readonly [string, string] = ['181a/2a6d/Suction pressure', '181a/2a6d/Liquid pressure'],
): void {
  const value = (key: string, channel: ChannelKey): RememberedValue => ({
    key,
    label: key,
    quantity: 'pressure',
    assigned: { unit: UNIT, channel },
    reference: 'gauge',
    zero: null,
    accuracy: null,
  });
  memory.put({
    id: MANIFOLD,
    name: 'Manifold',
    address: MANIFOLD,
    reach: 'link',
    bindKey: null,
    description: null,
    values: [value(keys[0], 'suctionPressure'), value(keys[1], 'liquidPressure')],
    addedAt: '2026-01-01T00:00:00Z',
  });
}

/** Waits until something holds, and says what did not. */
export async function until(what: string, holds: () => unknown, seconds = 10): Promise<void> {
  const end = performance.now() + seconds * 1000;
  while (!holds()) {
    if (performance.now() > end) throw new Error(`not within ${seconds} s: ${what}`);
    await new Promise((resolve) => setTimeout(resolve, 5));
  }
}

/** How much faster than life the contract suite's time runs. */
const FAST = 10;

/**
 * The radio source for the contract suite that every source passes, in time that runs ten times as
 * fast; its sensor sends ten times a second of that time.
 */
export function makeRadioSourceForContract(): Promise<SourceRig> {
  const clock: RadioClock = {
    now: () => FAST * systemClock.now(),
    every: (ms, fn) => systemClock.every(ms / FAST, fn),
    after: (ms, fn) => systemClock.after(ms / FAST, fn),
  };
  const fake = fakeRadio({ clock });
  assignManifold(fake.memory);
  const isHeard = (): boolean => {
    const record = fake.memory.get(MANIFOLD);
    return record !== null && fake.hub.health(record) === 'good';
  };
  const timer = setInterval(() => {
    fake.send(fake.suction, fake.suction.value);
    fake.send(fake.liquid, fake.liquid.value);
  }, 100 / FAST);
  return Promise.resolve({
    source: fake.source,
    pass: async (ms: number) => {
      // The link and its first value take their own time, which is not the suite's.
      if (fake.source.running) await until('a value', () => isHeard());
      await new Promise((resolve) => setTimeout(resolve, ms / FAST));
    },
    listeners: () => fake.source.listenerCount(),
    close: async () => {
      clearInterval(timer);
      await fake.end();
    },
  });
}
