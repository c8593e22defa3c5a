import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { decryptCcm } from '../../electron/radio/ccm.ts';
import { systemClock } from '../../electron/radio/clock.ts';
import { RadioHub } from '../../electron/radio/hub.ts';
import { RadioSource } from '../../electron/radio/radio-source.ts';
import {
  SensorStore,
  type RememberedValue,
  type SensorRecord,
} from '../../electron/radio/sensor-store.ts';
import { forkSpawner, type RadioProcess } from '../../electron/radio/spawner.ts';
import type { ChannelKey } from '../../core/stream/channels.ts';
import type { Sample } from '../../core/stream/sample.ts';
import type { Health } from '../../electron/sources/source.ts';

/** Local atmosphere of the tests' unit, Pa: not the standard one, so that a mix-up shows. */
export const ATMOSPHERE = 84_000;
export const UNIT = 'u1';

/** What a test needs of the program's radio: the real process, hub, memory and source. */
export interface Rig {
  readonly hub: RadioHub;
  readonly memory: SensorStore;
  readonly source: RadioSource;
  readonly samples: Sample[];
  readonly health: Health[];
  /** Everything the radio process wrote to its error output. */
  readonly log: string[];
  /** Breaks the radio process off, as a fault in a driver would. */
  readonly killProcess: () => void;
  readonly of: (channel: ChannelKey) => Sample[];
  readonly end: () => Promise<void>;
}

/** Builds the radio over the controller at that port. */
export async function makeRig(port: number): Promise<Rig> {
  process.env['CONTROLLER_PORT'] = String(port);
  const folder = await mkdtemp(join(tmpdir(), 'radio-'));
  const memory = SensorStore.open(folder);
  const log: string[] = [];
  let current: RadioProcess | null = null;
  const fork = forkSpawner(join(import.meta.dirname, 'bumble-worker.ts'), (text) => log.push(text));
  const hub = new RadioHub({
    spawn: () => (current = fork()),
    clock: systemClock,
    memory,
    decrypt: decryptCcm,
  });
  const source = new RadioSource({ hub, memory, clock: systemClock, atmosphere: () => ATMOSPHERE });
  const samples: Sample[] = [];
  const health: Health[] = [];
  source.onBatch((batch) => samples.push(...batch.samples));
  source.onHealth((h) => health.push(h));
  return {
    hub,
    memory,
    source,
    samples,
    health,
    log,
    killProcess: () => current?.kill(),
    of: (channel) => samples.filter((s) => s.channel === channel),
    end: async () => {
      await source.stop();
      await rm(folder, { recursive: true });
    },
  };
}

/** Remembers a sensor with some of its values assigned to channels of the tests' unit. */
export function remember(
  rig: Rig,
  id: string,
  assigned: Readonly<Record<string, ChannelKey>>,
  over: Partial<SensorRecord> = {},
): void {
  const live = rig.hub.sensor(id);
  const values = Object.entries(assigned).map(([key, channel]): RememberedValue => ({
    key,
    label: live?.values.get(key)?.label ?? key,
    quantity: live?.values.get(key)?.quantity ?? 'pressure',
    assigned: { unit: UNIT, channel },
    reference: channel.endsWith('Pressure') ? 'gauge' : null,
    zero: null,
    accuracy: null,
  }));
  rig.memory.put({
    id,
    name: live?.name ?? id,
    address: live?.address ?? null,
    reach: live?.broadcasts === true ? 'broadcast' : 'link',
    bindKey: null,
    description: null,
    values,
    addedAt: '2026-01-01T00:00:00Z',
    ...over,
  });
}

/** Waits until something holds, and says what did not. */
export async function until(what: string, holds: () => unknown, seconds = 20): Promise<void> {
  const end = performance.now() + seconds * 1000;
  while (!(await holds())) {
    if (performance.now() > end) throw new Error(`not within ${seconds} s: ${what}`);
    await new Promise((resolve) => setTimeout(resolve, 25));
  }
}

export const sleep = (seconds: number) =>
  new Promise<void>((resolve) => setTimeout(resolve, seconds * 1000));

/** Little-endian bytes as hexadecimal. */
export const le = {
  u32: (n: number) => bytes(4, (b) => b.writeUInt32LE(n)),
  i16: (n: number) => bytes(2, (b) => b.writeInt16LE(n)),
};

function bytes(length: number, write: (buffer: Buffer) => void): string {
  const buffer = Buffer.alloc(length);
  write(buffer);
  return buffer.toString('hex');
}
