import type { CcmDecrypt } from '../../core/radio/bthome.ts';
import { describes } from '../../core/radio/description.ts';
import { sensorHealth, type SensorHealth } from '../../core/radio/sensor-health.ts';
import type { RadioClock } from './clock.ts';
import { LiveSensor, type Reading } from './live-sensor.ts';
import type { AdapterState, Follow, Notice, Target } from './messages.ts';
import type { SensorMemory, SensorRecord } from './sensor-store.ts';
import type { RadioSpawner } from './spawner.ts';
import { Supervisor } from './supervisor.ts';

/** Sensors kept in sight that nobody added; the one heard longest ago goes first. */
const MOST_STRANGERS = 200;
/** Connections during which the process broke off before a sensor is left alone. */
const CRASHES = 3;

/** A reading with the sensor it came from. */
export interface HubReading extends Reading {
  readonly id: string;
}

/** Sensors whose values stopped at `t`, and why. */
export interface HubLoss {
  readonly ids: readonly string[];
  readonly t: number;
  readonly why: 'lost' | 'restarted';
}

export interface HubOptions {
  readonly spawn: RadioSpawner;
  readonly clock: RadioClock;
  readonly memory: SensorMemory;
  readonly decrypt: CcmDecrypt;
}

type Listener<T> = (item: T) => void;

/**
 * The radio as the program sees it: one process for all who need it (a recording, the sensors
 * screen), the sensors in sight, and the stream of their readings.
 */
export class RadioHub {
  readonly #clock: RadioClock;
  readonly #memory: SensorMemory;
  readonly #decrypt: CcmDecrypt;
  readonly #supervisor: Supervisor;
  readonly #sensors = new Map<string, LiveSensor>();
  readonly #onReading = new Set<Listener<HubReading>>();
  readonly #onLoss = new Set<Listener<HubLoss>>();
  readonly #onChange = new Set<() => void>();
  #holders = 0;
  #scanners = 0;
  #adapter: AdapterState = 'unknown';
  #adapterDetail = '';
  /** The adapter was on and then off while the present process ran. */
  #wasOn = false;
  #restarts = 0;
  #forgetMemory: (() => void) | null = null;
  #ending: Promise<void> = Promise.resolve();

  constructor(options: HubOptions) {
    this.#clock = options.clock;
    this.#memory = options.memory;
    this.#decrypt = options.decrypt;
    this.#supervisor = new Supervisor(options.spawn, options.clock, {
      onNotice: (notice) => this.#onNotice(notice),
      onStarted: () => this.#sayAll(),
      onBroken: () => this.#onBroken(),
    });
  }

  get adapter(): AdapterState {
    return this.#adapter;
  }

  /** What the system said about the adapter, for the log. */
  get adapterDetail(): string {
    return this.#adapterDetail;
  }

  /** How often the process broke off and was started anew. */
  get restarts(): number {
    return this.#restarts;
  }

  /** Keeps the radio running until the returned function is called. */
  hold(): () => Promise<void> {
    this.#holders += 1;
    if (this.#holders === 1) {
      this.#adapter = 'unknown';
      this.#forgetMemory = this.#memory.onChange(() => this.#sayAll());
      void this.#ending.then(() => {
        if (this.#holders > 0) this.#supervisor.start();
      });
    }
    let released = false;
    return async () => {
      if (released) return this.#ending;
      released = true;
      this.#holders -= 1;
      if (this.#holders === 0) this.#ending = this.#end();
      return this.#ending;
    };
  }

  /** Searches for sensors until the returned function is called; the radio must be held. */
  scan(): () => void {
    this.#scanners += 1;
    this.#supervisor.send({ type: 'scan', on: true });
    let released = false;
    return () => {
      if (released) return;
      released = true;
      this.#scanners -= 1;
      if (this.#scanners === 0) this.#supervisor.send({ type: 'scan', on: false });
    };
  }

  /** Everything in sight and everything remembered. */
  sensors(): readonly LiveSensor[] {
    for (const record of this.#memory.all()) this.#sensor(record.id);
    return [...this.#sensors.values()];
  }

  /** The sensor of that id, or null where it was neither heard nor remembered. */
  sensor(id: string): LiveSensor | null {
    return this.#sensors.get(id) ?? null;
  }

  /** How a remembered sensor fares now. */
  health(record: SensorRecord): SensorHealth {
    const live = this.#sensor(record.id);
    return sensorHealth(live.facts(this.#clock.now(), this.#adapter === 'on', record.reach));
  }

  /** Tries a sensor again that was left alone after it broke the process. */
  retry(id: string): void {
    const live = this.#sensors.get(id);
    if (live === undefined) return;
    live.crashes = 0;
    live.link = 'none';
    this.#sayAll();
  }

  onReading(fn: Listener<HubReading>): () => void {
    return listen(this.#onReading, fn);
  }

  onLoss(fn: Listener<HubLoss>): () => void {
    return listen(this.#onLoss, fn);
  }

  /** Called when the adapter, a link or the list of sensors changed. */
  onChange(fn: () => void): () => void {
    return listen(this.#onChange, fn);
  }

  async #end(): Promise<void> {
    this.#forgetMemory?.();
    this.#forgetMemory = null;
    await this.#supervisor.stop();
    for (const live of this.#sensors.values()) live.link = 'none';
  }

  #onNotice(notice: Notice): void {
    switch (notice.type) {
      case 'alive':
        return;
      case 'adapter':
        this.#onAdapter(notice.state, notice.detail);
        return;
      case 'advertisement':
        this.#onAdvertisement(notice);
        return;
      case 'link':
        this.#onLink(notice);
        return;
      case 'table':
        this.#sensor(notice.id).onTable(notice.characteristics, this.#memory.get(notice.id));
        this.#changed();
        return;
      case 'value': {
        const live = this.#sensor(notice.id);
        live.lastSeen = notice.t;
        this.#publish(notice.id, live.onValue(notice, this.#memory.get(notice.id)));
        return;
      }
      case 'rssi':
        this.#sensor(notice.id).rssi_dBm = notice.rssi;
    }
  }

  #onAdapter(state: AdapterState, detail: string): void {
    const cameBack = state === 'on' && this.#wasOn && this.#adapter !== 'on';
    this.#wasOn ||= state === 'on';
    this.#adapter = state;
    this.#adapterDetail = detail;
    this.#changed();
    // noble keeps connections of before as if they still were; a new process knows none.
    if (cameBack) this.#supervisor.renew('the adapter was switched on again');
  }

  #onAdvertisement(notice: Extract<Notice, { type: 'advertisement' }>): void {
    const isNew = !this.#sensors.has(notice.id);
    const live = this.#sensor(notice.id);
    const readings = live.onAdvertisement(notice, this.#memory.get(notice.id), this.#decrypt);
    this.#publish(notice.id, readings);
    if (isNew) {
      this.#dropStranger();
      this.#changed();
    }
  }

  #onLink(notice: Extract<Notice, { type: 'link' }>): void {
    const live = this.#sensor(notice.id);
    const was = live.link;
    live.link = notice.state === 'failed' ? 'lost' : notice.state;
    if (notice.state === 'connected') {
      live.lastSeen = notice.t;
      live.since = notice.t;
    }
    if (notice.state === 'lost' && was === 'connected') {
      this.#lose({ ids: [notice.id], t: notice.t, why: 'lost' });
    }
    this.#changed();
  }

  #onBroken(): void {
    this.#restarts += 1;
    this.#adapter = 'unknown';
    this.#wasOn = false;
    const ids: string[] = [];
    for (const live of this.#sensors.values()) {
      if (live.link === 'connecting') live.crashes += 1;
      if (live.link !== 'none') live.link = live.crashes >= CRASHES ? 'failed' : 'lost';
      ids.push(live.id);
    }
    this.#lose({ ids, t: this.#clock.now(), why: 'restarted' });
    this.#changed();
  }

  #sayAll(): void {
    const records = this.#memory.all();
    const links = records
      .filter((r) => r.reach === 'link' && this.#sensor(r.id).link !== 'failed')
      .map(targetOf);
    const isListening = records.some((r) => r.reach === 'broadcast' || hasBroadcastValue(r));
    this.#supervisor.send({ type: 'targets', links: links.slice(0, 64), listen: isListening });
    this.#supervisor.send({ type: 'scan', on: this.#scanners > 0 });
  }

  #sensor(id: string): LiveSensor {
    const known = this.#sensors.get(id);
    if (known !== undefined) return known;
    const live = new LiveSensor(id);
    this.#sensors.set(id, live);
    return live;
  }

  #dropStranger(): void {
    const strangers = [...this.#sensors.values()].filter((s) => this.#memory.get(s.id) === null);
    if (strangers.length <= MOST_STRANGERS) return;
    const oldest = strangers.reduce((a, b) => ((a.lastSeen ?? 0) <= (b.lastSeen ?? 0) ? a : b));
    this.#sensors.delete(oldest.id);
  }

  #publish(id: string, readings: readonly Reading[]): void {
    for (const reading of readings) {
      for (const fn of [...this.#onReading]) fn({ id, ...reading });
    }
  }

  #lose(loss: HubLoss): void {
    for (const fn of [...this.#onLoss]) fn(loss);
  }

  #changed(): void {
    for (const fn of [...this.#onChange]) fn();
  }
}

function listen<T>(listeners: Set<T>, fn: T): () => void {
  listeners.add(fn);
  return () => void listeners.delete(fn);
}

function hasBroadcastValue(record: SensorRecord): boolean {
  return record.description?.values.some((v) => v.from.kind !== 'characteristic') ?? false;
}

function targetOf(record: SensorRecord): Target {
  const follow: Follow[] = [];
  for (const { from } of record.description?.values ?? []) {
    if (from.kind !== 'characteristic') continue;
    const { service, characteristic, instance, how, pollPeriod } = from;
    const isKnown = follow.some(
      (f) =>
        f.service === service && f.characteristic === characteristic && f.instance === instance,
    );
    if (!isKnown) follow.push({ service, characteristic, instance, how, pollPeriod });
  }
  return { id: record.id, follow };
}

/** Whether a sensor in sight is one that a description is meant for. */
export function isDescribedBy(
  live: LiveSensor,
  description: NonNullable<SensorRecord['description']>,
): boolean {
  return describes(description, {
    name: live.name,
    services: live.services,
    company: live.company,
  });
}
