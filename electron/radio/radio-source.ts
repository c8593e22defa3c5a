import { SENSOR_TIPS, type SensorHealth } from '../../core/radio/sensor-health.ts';
import { channelValue } from '../../core/radio/sensor-value.ts';
import type { ChannelKey } from '../../core/stream/channels.ts';
import type { Batch, GapReason, Sample, UnitKey } from '../../core/stream/sample.ts';
import type { Capability, Health, Source, Unsubscribe } from '../sources/source.ts';
import type { RadioClock } from './clock.ts';
import type { HubLoss, HubReading, RadioHub } from './hub.ts';
import type { RememberedValue, SensorMemory, SensorRecord } from './sensor-store.ts';
import { adapterAlert, RADIO_TIPS } from './tips.ts';

const FLUSH_MS = 100;
const HEALTH_MS = 1000;
/** How long `start` waits for the adapter's word before it goes on without. */
const FIRST_WORD_MS = 5000;

export interface RadioSourceOptions {
  readonly hub: RadioHub;
  readonly memory: SensorMemory;
  readonly clock: RadioClock;
  /** Local atmosphere of a unit in Pa, by which gauge pressures become absolute. */
  readonly atmosphere: (unit: UnitKey) => number;
  /** Session time of the first instant, in seconds; more than 0 where a recording goes on. */
  readonly startAt_s?: number;
}

/**
 * The radio as a source: readings of the sensors that are assigned, as samples of their channels.
 *
 * Times are the radio process's own receive times, on the machine's monotonic clock. What a sensor
 * does not know, garbage, a lost link and a broken radio process are gaps, each with its reason; a
 * sensor that just falls silent leaves no gap, and the stream's own staleness shows it.
 */
export class RadioSource implements Source {
  readonly kind = 'radio';
  readonly capabilities: readonly Capability[] = ['scan'];
  readonly #options: RadioSourceOptions;
  readonly #batch = new Set<(batch: Batch) => void>();
  readonly #health = new Set<(health: Health) => void>();
  readonly #pending = new Map<UnitKey, Sample[]>();
  readonly #lastTime = new Map<string, number>();
  #running: { origin: number; undo: (() => void)[]; release: () => Promise<void> } | null = null;
  #stopping: Promise<void> = Promise.resolve();
  #epoch = 0;
  #last: Health = { state: 'off', alert: null };

  constructor(options: RadioSourceOptions) {
    this.#options = options;
  }

  /** Whether it listens now. */
  get running(): boolean {
    return this.#running !== null;
  }

  async start(): Promise<void> {
    await this.#stopping;
    if (this.#running !== null) return;
    const { hub, clock, startAt_s = 0 } = this.#options;
    this.#epoch += 1;
    this.#lastTime.clear();
    this.#tell({ state: 'starting', alert: null });
    const running = {
      origin: clock.now() - startAt_s,
      undo: [
        hub.onReading((reading) => this.#onReading(reading)),
        hub.onLoss((loss) => this.#onLoss(loss)),
        hub.onChange(() => this.#updateHealth()),
        clock.every(FLUSH_MS, () => this.#flush()),
        clock.every(HEALTH_MS, () => this.#updateHealth()),
      ],
      release: hub.hold(),
    };
    this.#running = running;
    await this.#firstWord();
    this.#updateHealth();
  }

  async stop(): Promise<void> {
    const running = this.#running;
    if (running === null) return this.#stopping;
    this.#flush();
    this.#running = null;
    for (const undo of running.undo) undo();
    this.#pending.clear();
    this.#tell({ state: 'off', alert: null });
    this.#stopping = running.release();
    return this.#stopping;
  }

  onBatch(fn: (batch: Batch) => void): Unsubscribe {
    this.#batch.add(fn);
    return () => void this.#batch.delete(fn);
  }

  onHealth(fn: (health: Health) => void): Unsubscribe {
    this.#health.add(fn);
    return () => void this.#health.delete(fn);
  }

  /** Listeners left, for tests. */
  listenerCount(): number {
    return this.#batch.size + this.#health.size;
  }

  async #firstWord(): Promise<void> {
    const { hub, clock } = this.#options;
    if (hub.adapter !== 'unknown') return;
    await new Promise<void>((resolve) => {
      const done = () => {
        off();
        cancel();
        resolve();
      };
      const off = hub.onChange(() => {
        if (hub.adapter !== 'unknown') done();
      });
      const cancel = clock.after(FIRST_WORD_MS, done);
    });
  }

  #onReading(reading: HubReading): void {
    const record = this.#options.memory.get(reading.id);
    const value = record?.values.find((v) => v.key === reading.key);
    const assigned = value?.assigned ?? null;
    if (value === undefined || assigned === null) return;
    const { unit, channel } = assigned;
    const stamp = {
      channel,
      t: this.#time(unit, channel, reading.t),
      ...(reading.seq === null ? {} : { seq: reading.seq }),
      ...(reading.deviceTime_s === null ? {} : { deviceTime_s: reading.deviceTime_s }),
    };
    this.#add(unit, { ...stamp, ...this.#valueOrGap(reading, value, unit) });
  }

  #valueOrGap(
    reading: HubReading,
    value: RememberedValue,
    unit: UnitKey,
  ): { value: number } | { value: null; why: GapReason } {
    if ('refused' in reading.outcome) return { value: null, why: 'implausible' };
    const settings = { reference: value.reference, zeroOffset: value.zero?.offset_Pa ?? 0 };
    const atmosphere = this.#options.atmosphere(unit);
    const si = channelValue(reading.outcome.measurement, settings, atmosphere);
    return si === null ? { value: null, why: 'notKnown' } : { value: si };
  }

  #onLoss(loss: HubLoss): void {
    for (const id of loss.ids) {
      for (const { assigned } of this.#options.memory.get(id)?.values ?? []) {
        if (assigned === null) continue;
        const { unit, channel } = assigned;
        const t = this.#time(unit, channel, loss.t);
        this.#add(unit, { channel, t, value: null, why: loss.why });
      }
    }
    this.#updateHealth();
  }

  /** Session time of a receive time: not before the start, and never backwards in one channel. */
  #time(unit: UnitKey, channel: ChannelKey, received: number): number {
    const key = `${unit}\n${channel}`;
    const { startAt_s = 0 } = this.#options;
    const t = Math.max(
      received - (this.#running?.origin ?? received),
      this.#lastTime.get(key) ?? startAt_s,
    );
    this.#lastTime.set(key, t);
    return t;
  }

  #add(unit: UnitKey, sample: Sample): void {
    if (this.#running === null) return;
    const pending = this.#pending.get(unit);
    if (pending === undefined) this.#pending.set(unit, [sample]);
    else pending.push(sample);
  }

  #flush(): void {
    for (const [unit, samples] of this.#pending) {
      this.#pending.delete(unit);
      const ordered = samples.sort((a, b) => a.t - b.t);
      for (const fn of [...this.#batch]) fn({ epoch: this.#epoch, unit, samples: ordered });
    }
  }

  #updateHealth(): void {
    if (this.#running !== null) this.#tell(this.#judge());
  }

  #judge(): Health {
    const { hub, memory } = this.#options;
    const code = adapterAlert(hub.adapter);
    if (code === 'RADIO_STARTING') {
      const restarted = hub.restarts > 0 ? 'RADIO_RESTARTED' : code;
      return {
        state: hub.restarts > 0 ? 'reconnecting' : 'starting',
        alert: { code: restarted, tip: RADIO_TIPS[restarted] },
      };
    }
    if (code !== null) return { state: 'unavailable', alert: { code, tip: RADIO_TIPS[code] } };
    const assigned = memory.all().filter((r) => r.values.some((v) => v.assigned !== null));
    if (assigned.length === 0) {
      return { state: 'running', alert: { code: 'NO_SENSORS', tip: RADIO_TIPS.NO_SENSORS } };
    }
    return worstOf(assigned.map((record) => ({ record, health: hub.health(record) })));
  }

  #tell(health: Health): void {
    if (JSON.stringify(health) === JSON.stringify(this.#last)) return;
    this.#last = health;
    for (const fn of [...this.#health]) fn(health);
  }
}

const AWAY: readonly SensorHealth[] = ['failed', 'notSeen', 'connecting', 'lost'];

function worstOf(all: readonly { record: SensorRecord; health: SensorHealth }[]): Health {
  const away = all.filter((s) => AWAY.includes(s.health));
  const amiss = away[0] ?? all.find((s) => s.health !== 'good');
  return {
    state: away.length > 0 ? 'reconnecting' : 'running',
    alert:
      amiss === undefined
        ? null
        : {
            code: `SENSOR_${amiss.health}`,
            tip: `${amiss.record.name}: ${SENSOR_TIPS[amiss.health]}`,
          },
  };
}
