import type { EngineConfig, SnapshotContent } from '../engine-types.ts';
import type { QuantityMotion } from '../steadiness/types.ts';
import type { FigureKey, Mode, Verdict } from '../circuit/types.ts';
import type { ChannelKey } from '../stream/channels.ts';
import type { PsychrometricRefusal } from '../circuit/psychrometrics.ts';
import type { TableRefusal } from './table.ts';
import type { CheckKey } from './checks-table.ts';
import type { Uncertain } from '../circuit/uncertainty.ts';
import type { MakersData } from './maker.ts';

export type { Uncertain };

/** Whose tolerances judge the reading. */
export const STANDARD_KEYS = ['ra32Installer', 'ra32Rater', 'acca5'] as const;
export type StandardKey = (typeof STANDARD_KEYS)[number];

/** Which chart gives the superheat of a fixed orifice where the maker's own is not typed in. */
export const SUPERHEAT_CHARTS = ['chargingChart', 'ra32'] as const;
export type SuperheatChart = (typeof SUPERHEAT_CHARTS)[number];

/** What is known of the air over the indoor coil. Flow in m3/s with u (k = 2). */
export type Airflow =
  | { readonly kind: 'unknown' }
  | { readonly kind: 'attested' /* a person looked at filter, coil and blower */ }
  | { readonly kind: 'measured'; readonly flow: Uncertain };

/** What a person saw. Only those that speak about a cause; the record has more kinds. */
export const OBSERVATION_KEYS = [
  'icedCoil',
  'dirtyFilter',
  'fouledOutdoorCoil',
  'oilTraces',
  'burntContacts',
  'equalChargeWeighed',
] as const;
export type ObservationKey = (typeof OBSERVATION_KEYS)[number];

/** The unit's plate and what its maker's papers say; unknown is null. SI. */
export interface Nameplate {
  readonly targetSubcooling_K: number | null;
  readonly targetSuperheat_K: number | null;
  readonly capacity_W: number | null;
  /** Swept volume of the compressor in time, m3/s. */
  readonly displacement_m3_s: number | null;
}

/** What is looked at to find a cause. Temperatures K, differences K, current A. */
export const FEATURE_KEYS = [
  'evaporating',
  'superheat',
  'condensing',
  'subcooling',
  'liquidApproach',
  'discharge',
  'compressorHeat',
  'airChange',
  'drierDrop',
  'current',
] as const;
export type FeatureKey = (typeof FEATURE_KEYS)[number];

/** Readings of a healthy visit or of a like unit, with what they were taken under. */
export interface ReferenceSnapshot {
  readonly label: string;
  readonly config: EngineConfig;
  readonly content: SnapshotContent;
}

/** How the compressor started and stopped over the session. */
export interface RunPattern {
  readonly starts: number;
  /** Median length of the finished runs, s; null with none finished. */
  readonly medianRun: number | null;
  /** Length of the session looked at, s. */
  readonly span: number;
}

/**
 * What a unit told while it stood still in the session: its one pressure against saturation at the air
 * around it (`checks/stood-still.ts`).
 */
export interface StoodStill {
  /** Below, at or above saturation of what surrounds the circuit. */
  readonly probability: { readonly below: number; readonly agrees: number; readonly above: number };
  /** Temperature at which the standing pressure is saturated, K. */
  readonly saturated: number;
  /** The coldest and the warmest air measured, K. */
  readonly coldest: number;
  readonly warmest: number;
}

/** A check that was made, and what came out. */
export interface CheckOutcome {
  readonly check: CheckKey;
  readonly outcome: string;
}

/** All that the judge is given about one unit. Plain data. */
export interface JudgementInput {
  readonly config: EngineConfig;
  readonly content: SnapshotContent;
  /** Seconds since the compressor started; null where the start was not seen. */
  readonly runTime: number | null;
  readonly nameplate: Nameplate;
  readonly standard: StandardKey;
  readonly superheatChart: SuperheatChart;
  readonly airflow: Airflow;
  readonly observations: readonly ObservationKey[];
  readonly outcomes: readonly CheckOutcome[];
  /** How the judged quantities move now: shows ice growing. Empty where not at hand. */
  readonly motions: readonly QuantityMotion[];
  readonly pattern: RunPattern | null;
  /** What it told while it stood still in the session; null where that was not seen. */
  readonly stood: StoodStill | null;
  readonly heatPump: boolean;
  readonly baseline: ReferenceSnapshot | null;
  /** A like unit under the same conditions, sound or not. */
  readonly twin: ReferenceSnapshot | null;
  /** Expected readings typed in from the maker's papers (`maker.ts`); {} where none. */
  readonly maker: MakersData;
}

/** Where a target comes from. The words stand in `words.ts`. */
export type TargetSource =
  | { readonly code: 'nameplate' }
  | { readonly code: 'makersChart' }
  | { readonly code: 'chargingChart' }
  | { readonly code: 'ra32Superheat' }
  | { readonly code: 'ra32Split' }
  | { readonly code: 'ra32ValveRange' };

/** What a reading should be. `tolerance` is the half-width about it; a range has lo and hi alone. */
export interface Target {
  readonly quantity: TargetQuantity;
  readonly value: number | null;
  /** Expanded uncertainty of the target itself, k = 2 (its entries, its print). */
  readonly u: number;
  readonly low: number;
  readonly high: number;
  readonly source: TargetSource;
  readonly fromMemory: boolean;
}
export type TargetQuantity = 'superheat' | 'subcooling' | 'airDrop';

/** A reading against its target. */
export interface VerdictRow {
  readonly quantity: TargetQuantity;
  readonly reading: Uncertain;
  readonly target: Target;
  /** Combined expanded uncertainty of reading and target, k = 2. */
  readonly u: number;
  readonly verdict: Verdict;
  readonly probability: { readonly below: number; readonly within: number; readonly above: number };
}

/** Why something is not judged. `blocks` says how far it reaches; `words.ts` says what to do. */
export type Refusal = { readonly blocks: 'all' | 'charge' | 'superheatTarget' | 'splitTarget' } & (
  | { readonly code: 'NOT_RUNNING' }
  | { readonly code: 'UNSTEADY'; readonly state: 'starting' | 'moving' | 'disturbed' | 'hunting' }
  | { readonly code: 'BLIND'; readonly missing: readonly string[] }
  | { readonly code: 'STALE'; readonly channels: readonly ChannelKey[] }
  | {
      readonly code: 'ICED_COIL';
      readonly seen: 'byPerson' | 'inStream';
      readonly mode: Mode;
    }
  /** Set to heat, it cools the house: a defrost, or a reversing valve that stands wrong. */
  | { readonly code: 'NOT_HEATING' }
  /** In heating the outdoor coil frosts over while it is watched. */
  | { readonly code: 'FROST_GROWS' }
  | { readonly code: 'RUN_TOO_SHORT'; readonly runTime: number; readonly asked: number }
  /** The same beside a hazard: nobody is told to let such a unit run on. */
  | { readonly code: 'NOT_TO_RUN_ON'; readonly runTime: number; readonly asked: number }
  | { readonly code: 'AIRFLOW_UNKNOWN'; readonly mode: Mode }
  | { readonly code: 'AIRFLOW_LOW'; readonly over: Uncertain }
  | { readonly code: 'AIRFLOW_MEASURED_LOW'; readonly flow: Uncertain; readonly floor: number }
  | { readonly code: 'COIL_BELOW_FREEZING'; readonly evaporating: number }
  | { readonly code: 'OUTDOOR_UNKNOWN' }
  | { readonly code: 'OUTDOOR_TOO_COLD'; readonly outdoor: number; readonly floor: number }
  | { readonly code: 'RETURN_TOO_COLD'; readonly returnAir: number; readonly floor: number }
  | { readonly code: 'WET_BULB_UNKNOWN' }
  | { readonly code: 'AIR_REFUSED'; readonly why: PsychrometricRefusal }
  | { readonly code: 'TABLE'; readonly table: 'superheat' | 'split'; readonly why: TableRefusal }
  | { readonly code: 'NO_SUBCOOLING_TARGET' }
  | { readonly code: 'HEATING_BY_MAKER_ONLY' }
  | { readonly code: 'BOTH_AT_ZERO'; readonly superheat: number; readonly subcooling: number }
  | { readonly code: 'MISSING_READING'; readonly figure: FigureKey }
);
