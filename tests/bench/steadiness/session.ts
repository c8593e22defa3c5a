import type { EngineConfig } from '../../../core/engine-types.ts';
import type { Sample } from '../../../core/stream/sample.ts';
import type { SensorClass } from './sensors.ts';

/** The judged quantities, in the order of the frames. */
export const QUANTITIES = [
  'suctionSaturation',
  'liquidSaturation',
  'superheat',
  'subcooling',
  'airDrop',
] as const;

/** Index of superheat and subcooling, by which a settling is called true or false. */
export const SUPERHEAT = 2;
export const SUBCOOLING = 3;

/** Kinds of sessions: the virtual split system in three uses, and formulas. */
export const FAMILIES = ['cooling', 'heating', 'cycling', 'analytic'] as const;
export type Family = (typeof FAMILIES)[number];

/** A labelled session: what the engine sees, and what was true. */
export interface Session {
  readonly family: Family;
  readonly seed: number;
  readonly kind: string;
  readonly sensors: SensorClass;
  readonly config: EngineConfig;
  /** In order of arrival. */
  readonly samples: readonly Sample[];
  readonly truth: Truth;
}

/** What was true, without noise, second by second. */
export interface Truth {
  /** Last second of the truth. */
  readonly length: number;
  /** By quantity, values at 0, 1, 2... s, K; NaN where undefined. */
  readonly series: readonly Float64Array[];
  /** Stretches in which the compressor runs, s. */
  readonly runs: readonly { readonly from: number; readonly to: number }[];
  /** Times of sudden changes while it runs, s. Each ends an episode and begins another. */
  readonly events: readonly { readonly at: number; readonly what: string }[];
  /** Period of an undamped swing, s; 0 without. */
  readonly period: number;
}
