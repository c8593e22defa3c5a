/** What the judge knows of one quantity, and what that says of it: whether it moves on, and how far it counts. */
import type { Swing } from './swing.ts';
import type { QuantitySpec } from './types.ts';

/** Least probability of staying inside for the quantities that only stand by. */
export const STANDBY = 0.5;
/** Stretch over which the movement of late is looked at, s. */
export const LOOK_BACK_S = 150;
/** A quantity that stands by objects when it moved by this many tolerances in that stretch... */
const RUNAWAY = 1;
/** ... and at least this share of what it moved in the one before. */
const LASTING = 0.8;
/** At rest it objects only where that took it so many tolerances away from its declared average. */
const AWAY = 1.5;

/** What is known of one quantity. */
export interface Judgement {
  present: boolean;
  /** Mean over the window; NaN where absent. */
  value: number;
  /** Expected change of the mean over the horizon relative to the window's mean, and its sd. */
  drift: number;
  driftSd: number;
  /** Probability that the change stays inside the tolerance. */
  probability: number;
  heading: number;
  headingSd: number;
  swing: Swing | null;
  /** Change of the mean over the last two and a half minutes, K; and the same before that. */
  recent: number;
  before: number;
  /** Mean of the latest minute, or of whole periods of a swing. */
  lately: number;
}

/** A quantity of which nothing is known yet. */
export function blankJudgement(): Judgement {
  return {
    present: false,
    value: NaN,
    drift: NaN,
    driftSd: NaN,
    probability: 0,
    heading: NaN,
    headingSd: NaN,
    swing: null,
    recent: NaN,
    before: NaN,
    lately: NaN,
  };
}

/**
 * Probability of a quantity that only stands by; none where it plainly goes on moving. A forecast
 * that has often failed claims little, and would else not object while its quantity runs away.
 */
export function standing(j: Judgement, spec: QuantitySpec): number {
  return goesOn(j, spec) ? 0 : j.probability;
}

/**
 * Probability of a quantity that stands by, of what was called at rest: that it goes on moving counts only
 * where it has carried its latest minute away from the average that was declared (NaN: none). What sways (sun
 * and cloud, gusts) goes on moving as well, for minutes and in both directions, about an average that holds.
 */
export function standingAtRest(j: Judgement, spec: QuantitySpec, declared: number): number {
  const away = j.lately - declared;
  const left = Math.abs(away) > AWAY * spec.tolerance && away * j.recent > 0;
  return left ? standing(j, spec) : j.probability;
}

/** Whether a quantity that only stands by plainly goes on moving. */
export function goesOn(j: Judgement, spec: QuantitySpec): boolean {
  if (isDecisive(spec) || Math.abs(j.recent) <= RUNAWAY * spec.tolerance) return false;
  return j.recent * j.before > 0 && Math.abs(j.recent) >= LASTING * Math.abs(j.before);
}

/**
 * Superheat, subcooling and whatever is required must be shown to be still; the other quantities
 * must not be shown to move.
 */
export function isDecisive(spec: QuantitySpec | undefined): boolean {
  return spec?.required === true || spec?.key === 'superheat' || spec?.key === 'subcooling';
}

/** Nothing is known of it any more but its value. */
export function forget(judgement: Judgement): void {
  judgement.drift = NaN;
  judgement.driftSd = NaN;
  judgement.heading = NaN;
  judgement.headingSd = NaN;
  judgement.probability = 0;
  judgement.recent = NaN;
  judgement.before = NaN;
  judgement.lately = NaN;
}
