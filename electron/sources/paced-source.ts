import type { SourceKind } from '../../core/record/session.ts';
import type { Batch, Sample, UnitKey } from '../../core/stream/sample.ts';
import { errorText } from '../error-text.ts';
import type { Clock } from '../clock.ts';
import { createEmitter } from './emitter.ts';
import type { Capability, Health, Playback, SteerableSource, Unsubscribe } from './source.ts';

/** Time between batches: ten a second at the most. */
const TICK_MS = 100;
/** Samples in one batch at the most, so that a jump does not hold up the host. */
const MAX_BATCH = 5000;
const MIN_SPEED = 1;
const MAX_SPEED = 1000;

/** Something that holds samples by time and gives them out once, in order of arrival. */
export interface Timeline {
  /** Length in seconds from 0; null where it has no end. */
  readonly duration: number | null;
  /** The samples up to a time (inclusive) that were not given out yet. */
  until(t: number): readonly { readonly unit: UnitKey; readonly samples: readonly Sample[] }[];
  /** Whether all was given out. */
  done(): boolean;
}

interface PacedOptions {
  readonly kind: SourceKind;
  readonly capabilities: readonly Capability[];
  readonly clock: Clock;
  readonly speed: number;
  /** Time at which playing begins, s; 0 where it is left out. */
  readonly from?: number;
  /** A timeline from its beginning; called at the start and at each jump. */
  readonly open: () => Timeline;
}

const HEALTHY = { alert: null } as const;

/** Plays a timeline by the host's clock: at a speed, paused, or jumped in, as it is able to. */
export class PacedSource implements SteerableSource {
  readonly kind: SourceKind;
  readonly capabilities: readonly Capability[];
  readonly #options: PacedOptions;
  readonly #batches = createEmitter<Batch>();
  readonly #healths = createEmitter<Health>();
  #timeline: Timeline | null = null;
  #epoch = 0;
  #position = 0;
  #speed: number;
  #playing = true;
  /** Where and when the present stretch of even speed began: positions do not add up rounding. */
  #anchor = { position: 0, at: 0 };
  #off: Unsubscribe | null = null;

  constructor(options: PacedOptions) {
    this.kind = options.kind;
    this.capabilities = options.capabilities;
    this.#options = options;
    this.#speed = clampSpeed(options.speed);
  }

  start(): Promise<void> {
    if (this.#off !== null) return Promise.resolve();
    this.#healths.emit({ state: 'starting', ...HEALTHY });
    try {
      this.#timeline = this.#options.open();
    } catch (error) {
      const detail = errorText(error);
      this.#healths.emit({ state: 'failed', alert: { code: 'SOURCE_FAILED', tip: detail } });
      return Promise.resolve();
    }
    this.#epoch += 1;
    this.#position = this.#options.from ?? 0;
    this.#drop();
    this.#off = this.#options.clock.every(TICK_MS, () => this.#tick());
    this.#say();
    return Promise.resolve();
  }

  stop(): Promise<void> {
    if (this.#off !== null) {
      this.#off();
      this.#off = null;
      this.#timeline = null;
      this.#healths.emit({ state: 'off', ...HEALTHY });
    }
    return Promise.resolve();
  }

  onBatch(fn: (batch: Batch) => void): Unsubscribe {
    return this.#batches.on(fn);
  }

  onHealth(fn: (health: Health) => void): Unsubscribe {
    return this.#healths.on(fn);
  }

  playback(): Playback {
    return {
      position: this.#position,
      duration: this.#timeline?.duration ?? null,
      speed: this.#speed,
      playing: this.#playing && this.#off !== null && this.#timeline?.done() !== true,
    };
  }

  play(): void {
    this.#can('play');
    this.#playing = true;
    this.#drop();
    this.#say();
  }

  pause(): void {
    this.#can('play');
    this.#playing = false;
    this.#say();
  }

  seek(position_s: number): void {
    this.#can('seek');
    if (this.#off === null) return;
    this.#timeline = this.#options.open();
    this.#epoch += 1;
    const end = this.#timeline.duration ?? Infinity;
    this.#position = Math.min(Math.max(0, position_s), end);
    this.#give();
    this.#drop();
    this.#say();
  }

  setSpeed(speed: number): void {
    this.#can('speed');
    this.#drop();
    this.#speed = clampSpeed(speed);
  }

  /** Listeners of batches and health: none may be left when all have gone. */
  listenerCount(): number {
    return this.#batches.size + this.#healths.size;
  }

  /** Drops the anchor here: what follows is counted from this position and moment. */
  #drop(): void {
    this.#anchor = { position: this.#position, at: this.#options.clock.now() };
  }

  #tick(): void {
    const timeline = this.#timeline;
    if (!this.#playing || timeline === null || timeline.done()) return;
    const elapsed = Math.max(0, this.#options.clock.now() - this.#anchor.at) / 1000;
    this.#position = Math.min(
      this.#anchor.position + elapsed * this.#speed,
      timeline.duration ?? Infinity,
    );
    this.#give();
    if (timeline.done()) this.#say();
  }

  /** Hands over all up to the position, in batches; a listener may stop the source between two. */
  #give(): void {
    const timeline = this.#timeline;
    if (timeline === null) return;
    const epoch = this.#epoch;
    // Late samples may be dated before the end that was stated, or after: the end gives out all.
    const until = this.#position >= (timeline.duration ?? Infinity) ? Infinity : this.#position;
    for (const { unit, samples } of timeline.until(until)) {
      for (let i = 0; i < samples.length; i += MAX_BATCH) {
        if (this.#timeline !== timeline) return;
        this.#batches.emit({ epoch, unit, samples: samples.slice(i, i + MAX_BATCH) });
      }
    }
  }

  #say(): void {
    if (this.#off === null) return;
    const ended = this.#timeline?.done() === true;
    this.#healths.emit({
      state: ended ? 'ended' : this.#playing ? 'running' : 'paused',
      ...HEALTHY,
    });
  }

  #can(capability: Capability): void {
    if (!this.capabilities.includes(capability)) {
      throw new Error(`a ${this.kind} source cannot ${capability}`);
    }
  }
}

function clampSpeed(speed: number): number {
  return Math.min(MAX_SPEED, Math.max(MIN_SPEED, speed));
}
