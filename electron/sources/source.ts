import type { Batch } from '../../core/stream/sample.ts';
import type { SourceKind } from '../../core/record/session.ts';

/** What a source can do beyond starting and stopping; controls appear from this list. */
export type Capability = 'play' | 'seek' | 'speed' | 'enter' | 'scan';

/** How a source fares. A closed set. */
export type HealthState =
  | 'off' /* not started, or stopped */
  | 'starting'
  | 'running'
  | 'paused'
  | 'ended' /* a finite source has delivered all it had */
  | 'reconnecting'
  | 'unavailable' /* what it needs is absent: adapter, permission, file */
  | 'failed';

/** Health with, where something is amiss, what it is and what to do. Text lives in one table. */
export interface Health {
  readonly state: HealthState;
  readonly alert: { readonly code: string; readonly tip: string } | null;
}

export type Unsubscribe = () => void;

/** Where samples come from. One contract suite runs against every implementation. */
export interface Source {
  readonly kind: SourceKind;
  readonly capabilities: readonly Capability[];
  /** Resolves when running; failure is a health state, not a rejection. */
  start(): Promise<void>;
  /** Safe to call twice; no batch arrives after it resolved. */
  stop(): Promise<void>;
  onBatch(fn: (batch: Batch) => void): Unsubscribe;
  onHealth(fn: (health: Health) => void): Unsubscribe;
}

/** Where a source with 'play', 'seek' or 'speed' stands. Seconds of session time. */
export interface Playback {
  readonly position: number;
  /** Null where the length is not known. */
  readonly duration: number | null;
  readonly speed: number;
  readonly playing: boolean;
}

/** A source whose time can be steered; which of the calls work is told by `capabilities`. */
export interface SteerableSource extends Source {
  playback(): Playback;
  play(): void;
  pause(): void;
  /** Jumps: the next batch has another epoch and replays from the start up to the position. */
  seek(position_s: number): void;
  /** 1 to 1000 times real time. */
  setSpeed(speed: number): void;
}
