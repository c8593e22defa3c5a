import type { Session } from '../../core/record/session.ts';
import type { Batch, GapReason, Sample, UnitKey } from '../../core/stream/sample.ts';
import type { SessionView } from '../bridge/views.ts';
import type { Health, Source } from '../sources/source.ts';
import type { Clock } from '../clock.ts';
import { SilenceWatch } from './silence-watch.ts';
import { isSteerable } from './steerable.ts';
import { UnitTracker, type Turn } from './unit-tracker.ts';
import { createViewPump, type ViewPump } from './view-pump.ts';

/** How often the host looks for channels that fell silent. */
const WATCH_MS = 500;
/** More time than this between two looks did not pass for the sensors: the host slept, or its clock
 *  was set. */
const LONGEST_LOOK_MS = 1000;

/** What a recording needs of the job file. Both throw when the disk says no. */
export interface Recorder {
  append(unit: UnitKey, samples: readonly Sample[]): void;
  /** Brings everything appended to the disk. */
  flush(): void;
}

/** What a running session tells its owner. */
export interface RunnerEvents {
  view(view: SessionView): void;
  turn(unit: UnitKey, turn: Turn): void;
  /** Recording is impossible: the session has to end. Said once. */
  broken(error: unknown): void;
}

interface RunnerOptions {
  readonly session: Session;
  readonly source: Source;
  readonly recorder: Recorder;
  readonly clock: Clock;
  readonly events: RunnerEvents;
  /** Host time of t = 0, ms: a file's own origin may lie years back. */
  readonly startedAt: number;
}

/**
 * A live session: source, then record, then engine, then screen, in this order, so that nothing is
 * ever shown that is not in the record. Whatever the engine is told goes through a recorded sample;
 * so a replay of the record comes to the same state to the last bit.
 */
export class SessionRunner {
  readonly session: Session;
  readonly #source: Source;
  readonly #recorder: Recorder;
  readonly #clock: Clock;
  readonly #events: RunnerEvents;
  readonly #trackers: ReadonlyMap<UnitKey, UnitTracker>;
  readonly #watches: ReadonlyMap<UnitKey, SilenceWatch>;
  readonly #startedAt: number;
  #pump: ViewPump | null = null;
  #offs: (() => void)[] = [];
  #health: Health = { state: 'off', alert: null };
  #epoch: number | null = null;
  /** Seconds added to the source's times: it may begin anew while the session goes on. */
  #offset = 0;
  #latest = 0;
  #latestAt = 0;
  /** Time the host has been awake for, s: what silence is measured by. */
  #awake = 0;
  #lookedAt: number;
  #broken = false;

  constructor(options: RunnerOptions) {
    this.session = options.session;
    this.#source = options.source;
    this.#recorder = options.recorder;
    this.#clock = options.clock;
    this.#events = options.events;
    this.#startedAt = options.startedAt;
    this.#lookedAt = options.clock.now();
    const units = options.session.units;
    this.#trackers = new Map(units.map((u) => [u.unit, new UnitTracker(u.unit, u.config)]));
    this.#watches = new Map(units.map((u) => [u.unit, new SilenceWatch()]));
  }

  /**
   * Takes what was recorded before the recording broke off, then marks the break: one gap for each
   * channel, so that nothing is averaged or judged still across it.
   *
   * @param recorded the samples so far, in order of arrival
   */
  resume(
    recorded: Iterable<{ readonly unit: UnitKey; readonly samples: readonly Sample[] }>,
  ): void {
    for (const { unit, samples } of recorded) this.#take(unit, samples);
    for (const tracker of this.#trackers.values()) tracker.turn();
    this.#breakAll('restarted', Math.max(this.#latest, this.#elapsed()));
  }

  async start(): Promise<void> {
    this.#pump = createViewPump(this.#clock, () => this.#events.view(this.view()));
    this.#offs = [
      this.#source.onBatch((batch) => this.#onBatch(batch)),
      this.#source.onHealth((health) => {
        this.#health = health;
        this.#pump?.touch();
      }),
      this.#clock.every(WATCH_MS, () => this.#checkSilence()),
      this.#pump.stop,
    ];
    await this.#source.start();
    this.#pump.touch();
  }

  /** Ends listening and brings all to the disk. Safe to call twice. */
  async stop(): Promise<void> {
    await this.#source.stop();
    for (const off of this.#offs.splice(0)) off();
    if (!this.#broken) this.#recorder.flush();
  }

  get source(): Source {
    return this.#source;
  }

  tracker(unit: UnitKey): UnitTracker | undefined {
    return this.#trackers.get(unit);
  }

  view(): SessionView {
    return {
      role: 'live',
      sessionId: this.session.id,
      origin: this.session.origin,
      source: this.session.source,
      // A recording goes one way: jumping is for its replay.
      capabilities: this.#source.capabilities.filter((capability) => capability !== 'seek'),
      health: this.#health,
      playback: isSteerable(this.#source) ? this.#source.playback() : null,
      units: [...this.#trackers.values()].map((tracker) => ({
        unit: tracker.unit,
        config: tracker.config,
        state: tracker.state(),
        pattern: tracker.pattern(),
        stood: tracker.stood(),
        questions: tracker.questions(),
      })),
      overflow: 0,
    };
  }

  #onBatch(batch: Batch): void {
    if (this.#broken || batch.samples.length === 0) return;
    if (batch.epoch !== this.#epoch) this.#onEpoch(batch);
    this.#record(batch.unit, this.#shifted(batch.samples));
  }

  /**
   * The source began anew. Its time may have begun anew with it, but the session's goes on by the
   * wall clock; and what came before must not be averaged with what comes now.
   */
  #onEpoch(batch: Batch): void {
    const first = Math.min(...batch.samples.map((sample) => sample.t));
    const begins = this.#epoch !== null;
    this.#epoch = batch.epoch;
    if (first + this.#offset < this.#latest) {
      this.#offset = Math.max(this.#latest, this.#elapsed()) - first;
    }
    if (begins) this.#breakAll('restarted', first + this.#offset);
  }

  #shifted(samples: readonly Sample[]): readonly Sample[] {
    if (this.#offset === 0) return samples;
    return samples.map((sample) => ({ ...sample, t: sample.t + this.#offset }));
  }

  #checkSilence(): void {
    if (this.#broken || this.session.source.kind === 'manual') return;
    const awake = this.#look();
    for (const [unit, watch] of this.#watches) {
      if (this.#isAtPace()) this.#record(unit, watch.check(awake, this.#streamTime()));
      else watch.excuse(awake);
    }
  }

  /** A source that is paused, has ended or hurries has no pace that a channel could miss. */
  #isAtPace(): boolean {
    if (this.#health.state === 'ended') return false;
    if (!isSteerable(this.#source)) return true;
    const { playing, speed } = this.#source.playback();
    return playing && speed === 1;
  }

  #breakAll(why: GapReason, t: number): void {
    for (const [unit, watch] of this.#watches) {
      const gaps = watch.channels().map((channel): Sample => ({ channel, t, value: null, why }));
      this.#record(unit, gaps);
    }
  }

  #record(unit: UnitKey, samples: readonly Sample[]): void {
    const tracker = this.#trackers.get(unit);
    if (tracker === undefined || this.#broken || samples.length === 0) return;
    try {
      this.#recorder.append(unit, samples);
    } catch (error) {
      this.#broken = true;
      this.#events.broken(error);
      return;
    }
    this.#take(unit, samples);
    const turn = tracker.turn();
    if (turn !== null) this.#events.turn(unit, turn);
    this.#pump?.touch();
  }

  /** What is in the record goes to the engine. */
  #take(unit: UnitKey, samples: readonly Sample[]): void {
    this.#trackers.get(unit)?.push(samples);
    const awake = this.#look();
    this.#watches.get(unit)?.heard(samples, awake);
    for (const sample of samples) {
      if (sample.t < this.#latest) continue;
      this.#latest = sample.t;
      this.#latestAt = awake;
    }
  }

  /**
   * Counts the time since the last look, unless the host slept or its clock was set: a gap dated
   * into a future that the sensors' clock does not know would make all that follows too late.
   */
  #look(): number {
    const now = this.#clock.now();
    this.#awake += Math.min(Math.max(0, now - this.#lookedAt), LONGEST_LOOK_MS) / 1000;
    this.#lookedAt = now;
    return this.#awake;
  }

  /** Where the stream would be now had it gone on at the pace of time, s. */
  #streamTime(): number {
    return this.#latest + this.#awake - this.#latestAt;
  }

  /** Session time by the host's clock, s. */
  #elapsed(): number {
    return (this.#clock.now() - this.#startedAt) / 1000;
  }
}
