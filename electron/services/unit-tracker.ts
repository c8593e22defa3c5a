import { meanAtRest } from '../../core/steadiness/rest.ts';
import { createStoodStillFinder, type StoodStillFinder } from '../../core/checks/stood-still.ts';
import type { RunPattern, StoodStill } from '../../core/diagnosis/types.ts';
import type { Mode } from '../../core/circuit/types.ts';
import { createEngine } from '../../core/engine.ts';
import type {
  Engine,
  EngineConfig,
  EngineState,
  SnapshotContent,
  SnapshotRefusal,
} from '../../core/engine-types.ts';
import type { SwapQuestion } from '../../core/radio/swap-check.ts';
import type { RunSoFar } from '../../core/record/snapshot.ts';
import type { Result } from '../../core/result.ts';
import type { Sample } from '../../core/stream/sample.ts';
import type { SteadinessView } from '../../core/steadiness/types.ts';
import { createSwapFollower, type SwapFollower } from './swap-follower.ts';
import { runSoFar } from './run-so-far.ts';
import { UnitTrends } from './trends.ts';

/** A change a person wants to be called for. */
export interface Turn {
  readonly kind: 'settled' | 'disturbed';
  readonly mode: Mode;
  readonly steadiness: SteadinessView;
}

/** What is known of one unit while its samples come in: its engine and its trends. */
export class UnitTracker {
  readonly unit: string;
  readonly config: EngineConfig;
  readonly trends = new UnitTrends();
  readonly #engine: Engine;
  readonly #swaps: SwapFollower;
  readonly #standing: StoodStillFinder;
  #wasAtRest = false;
  #hasNewFrame = false;

  constructor(unit: string, config: EngineConfig) {
    this.unit = unit;
    this.config = config;
    this.#swaps = createSwapFollower(config.mode);
    this.#standing = createStoodStillFinder(config);
    this.#engine = createEngine(config, (t, columns) => {
      this.#hasNewFrame = true;
      this.#swaps.observe(t, columns);
      this.#standing.observe(t, columns);
      this.trends.frame(t, columns);
    });
  }

  /** Takes samples in order of arrival. */
  push(samples: readonly Sample[]): void {
    this.trends.push(samples);
    this.#engine.push(samples);
  }

  /** Whether the unit came to rest or left its rest since this was last asked; null if neither. */
  turn(): Turn | null {
    // The state changes with frames only, and looking at it costs more than taking a sample.
    if (!this.#hasNewFrame) return null;
    this.#hasNewFrame = false;
    const { steadiness } = this.#engine.state();
    // A swing about a still mean is worth reading too: nothing more is to be waited for.
    const atRest = meanAtRest(steadiness);
    if (atRest === this.#wasAtRest) return null;
    this.#wasAtRest = atRest;
    return { kind: atRest ? 'settled' : 'disturbed', mode: this.config.mode, steadiness };
  }

  /** Time jumped: nothing that was known still holds. */
  reset(): void {
    this.#engine.reset();
    this.#swaps.reset();
    this.#standing.reset();
    this.trends.clear();
    this.#wasAtRest = false;
  }

  state(): EngineState {
    return this.#engine.state();
  }

  /** Starts and stops so far; null before the first frame. */
  pattern(): RunPattern | null {
    return runSoFar(this.#engine, this.#engine.state().t);
  }

  /** How the unit has run so far, for a snapshot. */
  run(): RunSoFar {
    const { seenStart, runTime } = this.#engine.state().steadiness;
    return { runTime: seenStart ? runTime : null, pattern: this.pattern(), stood: this.stood() };
  }

  /** What the unit told while it stood still in the session; null where that was not seen. */
  stood(): StoodStill | null {
    return this.#standing.found();
  }

  /** Sensors that look exchanged. */
  questions(): readonly SwapQuestion[] {
    return this.#swaps.questions();
  }

  snapshot(): Result<SnapshotContent, SnapshotRefusal> {
    return this.#engine.snapshot();
  }
}
