import { createStoodStillFinder, type StoodStillFinder } from '../../core/checks/stood-still.ts';
import { createEngine } from '../../core/engine.ts';
import type { Engine, EngineConfig } from '../../core/engine-types.ts';
import { fail, ok, type Result } from '../../core/result.ts';
import type { Session } from '../../core/record/session.ts';
import type { Batch, UnitKey } from '../../core/stream/sample.ts';
import { failure, type Failure } from '../bridge/errors.ts';
import type { Hub } from '../bridge/hub.ts';
import type { Recomputed, SessionView } from '../bridge/views.ts';
import type { JobFile } from '../jobfile/types.ts';
import { createReplaySource } from '../sources/replay.ts';
import type { Health, SteerableSource } from '../sources/source.ts';
import type { Clock } from '../clock.ts';
import { refusalText } from './refusal-text.ts';
import { runSoFar } from './run-so-far.ts';
import { createSwapFollower, type SwapFollower } from './swap-follower.ts';
import type { UnitTrends } from './trends.ts';
import { UnitTracker } from './unit-tracker.ts';
import { createViewPump, type ViewPump } from './view-pump.ts';

interface ReviewOptions {
  readonly job: JobFile;
  readonly session: Session;
  readonly clock: Clock;
  readonly hub: Hub;
  readonly report: (what: string, error: unknown) => void;
}

/** What the reviewer sees of one unit at the present position. */
interface Seen {
  readonly config: EngineConfig;
  readonly engine: Engine;
  readonly swaps: SwapFollower;
  readonly standing: StoodStillFinder;
  /** Samples given to the engine since the last jump. */
  count: number;
}

/**
 * A recorded session under review: a replay that drives engines as the recording once did, and the
 * trends of the whole session, which are drawn in the background from its beginning to its end.
 */
export class ReviewSession {
  readonly job: JobFile;
  readonly session: Session;
  readonly source: SteerableSource;
  readonly #hub: Hub;
  readonly #report: ReviewOptions['report'];
  readonly #seen: ReadonlyMap<UnitKey, Seen>;
  readonly #whole: ReadonlyMap<UnitKey, UnitTracker>;
  readonly #pump: ViewPump;
  readonly #offs: (() => void)[];
  #health: Health = { state: 'off', alert: null };
  #epoch: number | null = null;
  #open = true;

  constructor(options: ReviewOptions) {
    const { job, session, clock } = options;
    this.job = job;
    this.session = session;
    this.#hub = options.hub;
    this.#report = options.report;
    this.#seen = new Map(
      session.units.map(({ unit, config }) => {
        const swaps = createSwapFollower(config.mode);
        const standing = createStoodStillFinder(config);
        const engine = createEngine(config, (t, columns) => {
          swaps.observe(t, columns);
          standing.observe(t, columns);
        });
        return [unit, { config, engine, swaps, standing, count: 0 }];
      }),
    );
    this.#whole = new Map(session.units.map((u) => [u.unit, new UnitTracker(u.unit, u.config)]));
    this.source = createReplaySource({
      recording: job,
      sessionId: session.id,
      units: session.units.map((u) => u.unit),
      duration: latestTime(job, session),
      speed: 1,
      clock,
    });
    this.#pump = createViewPump(clock, () => this.#hub.emit('session', this.view()));
    this.#offs = [
      this.source.onBatch((batch) => this.#onBatch(batch)),
      this.source.onHealth((health) => {
        this.#health = health;
        this.#pump.touch();
      }),
      this.#pump.stop,
    ];
  }

  /** Begins at time zero, paused: the reviewer starts it. */
  async start(): Promise<void> {
    await this.source.start();
    this.source.pause();
    this.#drawWhole().catch((error: unknown) => this.#report('trends of the review', error));
  }

  async close(): Promise<void> {
    this.#open = false;
    await this.source.stop();
    for (const off of this.#offs.splice(0)) off();
    this.#hub.emit('sessionClosed', { role: 'review' });
  }

  view(): SessionView {
    return {
      role: 'review',
      sessionId: this.session.id,
      origin: this.session.origin,
      source: this.session.source,
      capabilities: this.source.capabilities,
      health: this.#health,
      playback: this.source.playback(),
      units: [...this.#seen].map(([unit, { config, engine, swaps, standing }]) => {
        const state = engine.state();
        return {
          unit,
          config,
          state,
          pattern: runSoFar(engine, state.t),
          stood: standing.found(),
          questions: swaps.questions(),
        };
      }),
      overflow: 0,
    };
  }

  trends(unit: UnitKey): UnitTrends | undefined {
    return this.#whole.get(unit)?.trends;
  }

  /** The readings at the present position had the session been seen with another assumption. */
  recompute(unit: UnitKey, config: EngineConfig): Result<Recomputed, Failure> {
    const seen = this.#seen.get(unit);
    if (seen === undefined) return fail(failure('UNKNOWN_UNIT', { unit }));
    const engine = createEngine(config);
    let left = seen.count;
    for (const samples of this.job.samples(this.session.id, unit)) {
      engine.push(samples.slice(0, left));
      left -= samples.length;
      if (left <= 0) break;
    }
    const content = engine.snapshot();
    return ok(
      content.ok
        ? { unit, config, content: content.value, refused: null }
        : { unit, config, content: null, refused: refusalText(content.error) },
    );
  }

  #onBatch(batch: Batch): void {
    if (batch.epoch !== this.#epoch) {
      this.#epoch = batch.epoch;
      for (const seen of this.#seen.values()) {
        seen.engine.reset();
        seen.swaps.reset();
        seen.standing.reset();
        seen.count = 0;
      }
    }
    const seen = this.#seen.get(batch.unit);
    if (seen === undefined) return;
    seen.engine.push(batch.samples);
    seen.count += batch.samples.length;
    this.#pump.touch();
  }

  /** Chunk by chunk, so that a recording and the screens go on meanwhile. */
  async #drawWhole(): Promise<void> {
    for (const [unit, tracker] of this.#whole) {
      for (const samples of this.job.samples(this.session.id, unit)) {
        tracker.push(samples);
        await new Promise((resolve) => setImmediate(resolve));
        if (!this.#open) return;
      }
    }
    this.#pump.touch();
  }
}

/** The latest time of a session; a late sample at the end must not shorten it. */
function latestTime(job: JobFile, session: Session): number {
  let latest = 0;
  for (const { unit } of session.units) {
    for (const samples of job.samples(session.id, unit)) {
      for (const sample of samples) latest = Math.max(latest, sample.t);
    }
  }
  return latest;
}
