import type { ChannelKey } from './stream/channels.ts';
import type { GapReason, Sample } from './stream/sample.ts';
import type { QuantityKey, Reason, SteadinessState, SteadinessView } from './steadiness/types.ts';
import type {
  Accuracy,
  ChannelReading,
  FigureKey,
  LoneStep,
  Mark,
  Metering,
  Mode,
  Reading,
} from './circuit/types.ts';
import type { RefrigerantId } from './refrigerant/types.ts';
import type { Result } from './result.ts';

/** The local atmosphere and how it is known; it turns gauge pressures into absolute ones. */
export interface Atmosphere {
  readonly pressure: number;
  readonly kind: 'measured' | 'altitude' | 'assumed';
}

/** Everything the engine assumes about one unit. Plain data: it is stored with each session. */
export interface EngineConfig {
  readonly refrigerant: RefrigerantId;
  readonly metering: Metering;
  readonly mode: Mode;
  readonly atmosphere: Atmosphere;
  /**
   * Channels whose sensor measured gauge pressure, and the atmosphere (Pa) that was added when the
   * samples were made absolute: another assumed atmosphere shifts exactly these channels.
   */
  readonly gauge: { readonly channels: readonly ChannelKey[]; readonly convertedWith: number };
  /** Accuracy of sensors, by channel; the table of defaults is used, and marked, where absent. */
  readonly accuracy: Partial<Readonly<Record<ChannelKey, Accuracy>>>;
  /** Constant corrections in SI added to channels (sensor offset found later, say). */
  readonly offsets: Partial<Readonly<Record<ChannelKey, number>>>;
  /** Floor of the run time before `settled`, s. */
  readonly minimumRun: number;
  /** Tolerances of stillness, K, where other than the defaults. */
  readonly tolerances: Partial<Readonly<Record<QuantityKey, number>>>;
  /** Marks every reading of this session carries ('simulated', 'typedByHand'). */
  readonly marks: readonly Mark[];
}

/** A channel as the screen shows it. */
export interface ChannelView {
  readonly value: number | null;
  /** Time of the last value or gap, s. */
  readonly t: number;
  readonly stale: boolean;
  readonly why: GapReason | null;
  /** Observed time between samples, s; null until two have come. */
  readonly period: number | null;
}

/** Counts of what did not fit: shown, never hidden. */
export interface StreamCounts {
  readonly samples: number;
  readonly gaps: number;
  /** Came after their frame was closed: recorded, but not in the averages. */
  readonly late: number;
  readonly repeated: number;
  readonly implausible: number;
}

/** All the engine knows after the last sample. */
export interface EngineState {
  /** The latest time seen, s; null before the first sample. */
  readonly t: number | null;
  readonly steadiness: SteadinessView;
  readonly channels: Partial<Readonly<Record<ChannelKey, ChannelView>>>;
  /** Figures over the steadiness window, with uncertainty; absent where they cannot be computed. */
  readonly figures: Partial<Readonly<Record<FigureKey, Reading>>>;
  readonly counts: StreamCounts;
  /** Clamps that moved alone since the unit started. */
  readonly movedAlone: readonly LoneStep[];
}

/** What a snapshot holds of numbers: readings over one window. Replay must give the same bits. */
export interface SnapshotContent {
  readonly window: { readonly from: number; readonly to: number };
  readonly state: SteadinessState;
  readonly reason: Reason;
  readonly figures: Partial<Readonly<Record<FigureKey, Reading>>>;
  readonly channels: readonly ChannelReading[];
  readonly counts: StreamCounts;
  /** Clamps that moved alone since the unit started; absent where none did. */
  readonly movedAlone?: readonly LoneStep[];
}

/** Why no snapshot can be taken. */
export type SnapshotRefusal =
  | { readonly code: 'NOTHING_TO_READ' }
  | { readonly code: 'STALE_CHANNELS'; readonly channels: readonly ChannelKey[] };

/** A stretch of time in one state. `to` is null while it lasts. */
export interface StateSpan {
  readonly state: SteadinessState;
  readonly from: number;
  readonly to: number | null;
  readonly reason: Reason;
  /**
   * For settled and hunting spans that ended: the readings averaged over the span (whole periods of
   * a swing). Of a span too short to average, those of its declaration, marked 'beforeSpan'.
   */
  readonly snapshot: SnapshotContent | null;
}

/** The one pipeline of live, replay, file, headless and tests: samples in, state out. */
export interface Engine {
  readonly config: EngineConfig;
  /** Takes samples in the order they arrived; how they are batched does not matter. */
  push(samples: readonly Sample[]): void;
  /** Ends the stream: closes the open frame, so that the last samples count. */
  finish(): void;
  /** Forgets everything rolling (a seek, another epoch); the config stays. */
  reset(): void;
  state(): EngineState;
  /** Readings over the present window; settled, hunting or moving, and marked so. */
  snapshot(): Result<SnapshotContent, SnapshotRefusal>;
  /** The spans so far, oldest first; the last one is open until `finish`. */
  spans(): readonly StateSpan[];
}
