/**
 * The contract of the steadiness room: frames of derived quantities in, one state with its reason
 * out. The room knows nothing of refrigerants: a quantity is a key, a value and a tolerance.
 */

/** The state of a stream. Every state carries its reason. */
export type SteadinessState =
  | 'idle' /* the unit is not running */
  | 'starting' /* running, the minimum run time is not over */
  | 'moving' /* running, something still drifts or cannot yet be told from drifting */
  | 'hunting' /* an undamped swing; about a still mean where `declaredAt` is told */
  | 'settled' /* the drift over the next minutes is inside tolerance, with the stated confidence */
  | 'disturbed' /* a step was seen: door, fan, charge, valve, stop */
  | 'blind'; /* a needed channel is missing or stale */

/** What is judged for stillness, all differences or temperatures in kelvin. */
export type QuantityKey =
  'suctionSaturation' | 'liquidSaturation' | 'superheat' | 'subcooling' | 'airDrop';

/** One quantity asked to be still. */
export interface QuantitySpec {
  readonly key: QuantityKey;
  /** Half-width of the band the mean of the next minutes must stay in, K. */
  readonly tolerance: number;
  /** A required quantity that is absent makes the state blind; others are judged when present. */
  readonly required: boolean;
}

/** One time step of all quantities: NaN where a quantity has no value in this frame. */
export interface Frame {
  /** End of the frame, s. */
  readonly t: number;
  /** Length of the frame, s. */
  readonly dt: number;
  /** Values in the order of the specs, K. */
  readonly values: readonly number[];
  /**
   * Whether each value is new; false where it is held from before, which tells that the quantity is
   * not missing but is no evidence of how it moves. Absent: all are new.
   */
  readonly fresh?: readonly boolean[];
  /** Whether the unit runs, by pressures or current; null where it cannot be told. */
  readonly running: boolean | null;
}

/** A mean about which something swings and that is not at rest, or not surely so. */
export interface Adrift {
  readonly quantity: QuantityKey;
  /** Expected change of the mean over the horizon and its 95 % half-width, K; null: not known yet. */
  readonly drift: number | null;
  readonly driftU: number | null;
  readonly horizon: number;
}

/** Why the state is what it is: data, put into words by reason-text.ts. Times s, differences K. */
export type Reason =
  | { readonly code: 'noData' }
  | { readonly code: 'notRunning' }
  | { readonly code: 'stopped'; readonly at: number }
  | {
      readonly code: 'missing';
      readonly quantities: readonly QuantityKey[];
      /** Channels that would mend it, in the words of the channel table. */
      readonly channels: readonly string[];
    }
  | {
      readonly code: 'minimumRun';
      readonly runTime: number;
      readonly minimum: number;
      readonly seenStart: boolean;
    }
  | {
      readonly code: 'drifting';
      readonly quantity: QuantityKey;
      /** Expected change of the mean over the horizon and its 95 % half-width, K. */
      readonly drift: number;
      readonly driftU: number;
      readonly horizon: number;
    }
  | {
      readonly code: 'unsure' /* too little or too noisy evidence to exclude a drift */;
      readonly quantity: QuantityKey;
      /** Expected change of the mean over the horizon and its 95 % half-width, K. */
      readonly drift: number;
      readonly driftU: number;
      readonly tolerance: number;
      readonly horizon: number;
    }
  | {
      readonly code: 'tooFew' /* too few of its values yet to fit anything */;
      readonly quantity: QuantityKey;
    }
  | {
      readonly code: 'goesOn' /* it has kept moving at an unbroken pace, whatever is forecast */;
      readonly quantity: QuantityKey;
      /** Change of its mean in the last so many seconds, K. */
      readonly change: number;
      readonly seconds: number;
    }
  | {
      readonly code: 'nearly' /* each alone looks still, all together not surely enough yet */;
      /** What the confidence speaks of. */
      readonly counted: readonly QuantityKey[];
      /** Probability that all of them stay inside over the horizon, and what is asked for. */
      readonly confidence: number;
      readonly asked: number;
      readonly horizon: number;
    }
  | {
      readonly code: 'departed' /* the mean has crept away from the average that was declared */;
      readonly quantity: QuantityKey;
      /** Change of the mean since it was declared, K. */
      readonly change: number;
      readonly tolerance: number;
      readonly declaredAt: number;
    }
  | {
      readonly code: 'swinging';
      readonly quantity: QuantityKey;
      /** Half of peak to peak, K. */
      readonly amplitude: number;
      readonly period: number;
      /** What keeps the mean of the swing from being read; null (or absent) where it is at rest. */
      readonly adrift?: Adrift | null;
    }
  | {
      readonly code: 'step';
      readonly quantity: QuantityKey;
      readonly size: number;
      readonly at: number;
      /** Time within which it happened, s: a slow channel cannot tell more finely. */
      readonly within: number;
    }
  | {
      readonly code: 'still';
      /** What the confidence speaks of: superheat, subcooling and all that is required, where present. */
      readonly counted: readonly QuantityKey[];
      /** Probability that all of them stay inside over the horizon. */
      readonly confidence: number;
      readonly horizon: number;
      /** The quantity, counted or not, that moved most for its tolerance, else the least sure one. */
      readonly quantity: QuantityKey;
      /** Expected change of its mean over the horizon, K. */
      readonly drift: number;
      /** What its mean has moved by of late where that is a trend, or much: K, in so many seconds. */
      readonly trend: { readonly change: number; readonly seconds: number } | null;
    };

/** How one quantity moves: what the closing-in picture draws. */
export interface QuantityMotion {
  readonly key: QuantityKey;
  readonly tolerance: number;
  /** Mean of the current window; null where absent. K. */
  readonly value: number | null;
  /** Where it is heading and the 95 % half-width of that; null where it cannot be told. K. */
  readonly heading: number | null;
  readonly headingU: number | null;
  /** Expected change of the mean over the horizon and its 95 % half-width, K. */
  readonly drift: number | null;
  readonly driftU: number | null;
  /** Whether this quantity alone would be called still. */
  readonly inside: boolean;
  /** Amplitude (half of peak to peak, K) and period (s) of an undamped swing. */
  readonly swing: { readonly amplitude: number; readonly period: number } | null;
}

/** The forecast of the time until settled, s, with a 90 % interval. */
export interface TimeLeft {
  readonly seconds: number;
  readonly from: number;
  readonly to: number;
}

/** The state after a frame, and why. */
export interface SteadinessGlance {
  readonly state: SteadinessState;
  /** When this state began, s. */
  readonly since: number;
  /**
   * When the present average was declared, s; null unless settled, or hunting about a mean at rest. Later than `since`
   * where the mean has crept away from an earlier average while it went on being still.
   */
  readonly declaredAt: number | null;
  readonly reason: Reason;
}

/** What the detector knows after a frame. */
export interface SteadinessView extends SteadinessGlance {
  /** Seconds since the compressor started, or since watching began where the start was not seen. */
  readonly runTime: number | null;
  readonly seenStart: boolean;
  readonly timeLeft: TimeLeft | null;
  readonly motions: readonly QuantityMotion[];
  /** The window whose average is worth reading: whole periods when hunting, s. */
  readonly window: { readonly from: number; readonly to: number } | null;
}
