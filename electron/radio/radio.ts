import type { Mode } from '../../core/circuit/types.ts';
import type { Atmosphere } from '../../core/engine-types.ts';
import type { UnitKey } from '../../core/stream/sample.ts';
import type { SensorsView } from '../bridge/views.ts';
import { decryptCcm } from './ccm.ts';
import { systemClock, type RadioClock } from './clock.ts';
import { RadioHub } from './hub.ts';
import { RadioSource } from './radio-source.ts';
import { SensorStore } from './sensor-store.ts';
import { sensorsView } from './sensor-view.ts';
import type { RadioSpawner } from './spawner.ts';
import { SwapWatch } from './swap-watch.ts';

/** The sensors screen asks every second; after this long without, nobody is looking. */
const LEASE_MS = 6000;

export interface RadioOptions {
  /** Folder of the sensor memory. */
  readonly folder: string;
  readonly spawn: RadioSpawner;
  /** Local atmosphere of a unit, and how it is known; the unit may be unknown (''). */
  readonly atmosphere: (unit: UnitKey) => Atmosphere;
  readonly modeOf: (unit: UnitKey) => Mode;
  /** ISO 8601. */
  readonly wallClock: () => string;
  readonly clock?: RadioClock;
}

export interface SourceOptions {
  /** Session time of its first instant, more than 0 where a recording goes on. */
  readonly startAt_s?: number;
  /** Atmosphere (Pa) of the units of a session; null for units it does not have. */
  readonly atmosphereOf?: (unit: UnitKey) => number | null;
}

/** The radio part of the program, put together. */
export interface Radio {
  readonly hub: RadioHub;
  readonly memory: SensorStore;
  readonly atmosphere: RadioOptions['atmosphere'];
  readonly wallClock: () => string;
  /** Seconds of the monotonic clock. */
  readonly now: () => number;
  /** Somebody looks at the sensors: keeps the radio running a few seconds more, and searches. */
  watch(scan: boolean): void;
  view(): SensorsView;
  /** A source for a session. */
  source(options?: SourceOptions): RadioSource;
  /** Whether a session listens now: what its record says of the pressures must stay true. */
  readonly recording: () => boolean;
  close(): Promise<void>;
}

/**
 * Builds the radio part. Nothing is started before somebody looks or a session listens.
 *
 * @throws Error when the folder of the memory cannot be made or read
 */
export function createRadio(options: RadioOptions): Radio {
  const clock = options.clock ?? systemClock;
  const memory = SensorStore.open(options.folder);
  const hub = new RadioHub({ spawn: options.spawn, clock, memory, decrypt: decryptCcm });
  const pressure = (unit: UnitKey) => options.atmosphere(unit).pressure;
  const swaps = new SwapWatch(hub, memory, pressure, options.modeOf);
  let lease: { release: () => Promise<void>; cancel: () => void } | null = null;
  let stopScan: (() => void) | null = null;
  /** One session at a time is recorded, so the latest source is the only one that can run. */
  let latest: RadioSource | null = null;

  const endLease = async (): Promise<void> => {
    const ending = lease;
    lease = null;
    stopScan?.();
    stopScan = null;
    ending?.cancel();
    await ending?.release();
  };

  return {
    hub,
    memory,
    atmosphere: options.atmosphere,
    wallClock: options.wallClock,
    now: () => clock.now(),
    watch(scan) {
      lease?.cancel();
      const release = lease?.release ?? hub.hold();
      lease = { release, cancel: clock.after(LEASE_MS, () => void endLease()) };
      if (scan) stopScan ??= hub.scan();
      else {
        stopScan?.();
        stopScan = null;
      }
    },
    view: () =>
      sensorsView({
        hub,
        memory,
        swaps,
        scanning: stopScan !== null,
        now: clock.now(),
        atmosphere: pressure,
      }),
    source({ startAt_s = 0, atmosphereOf = () => null } = {}) {
      const atmosphere = (unit: UnitKey) => atmosphereOf(unit) ?? pressure(unit);
      latest = new RadioSource({ hub, memory, clock, atmosphere, startAt_s });
      return latest;
    },
    recording: () => latest?.running ?? false,
    async close() {
      swaps.stop();
      await endLease();
    },
  };
}
