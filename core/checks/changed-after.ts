import type { Diagnosis } from '../diagnosis/diagnose.ts';
import type { StateSpan } from '../engine-types.ts';
import type { Reason } from '../steadiness/types.ts';

/** Reasons that tell of a movement that was seen; the others only of too little evidence of rest. */
const SEEN: ReadonlySet<Reason['code']> = new Set<Reason['code']>([
  'step',
  'drifting',
  'goesOn',
  'departed',
]);
/** Whoever stops a unit disturbs it first: what a stop ends so soon was the stop, s. */
const OF_THE_STOP_S = 20;

/**
 * Whether something was seen to change after the readings that are judged, which they know nothing of: a
 * fan that failed, a pressure that runs away. A stop, a start or a silent sensor is none.
 *
 * @param judgedTo where the judged readings end, s
 */
export function changedAfter(spans: readonly StateSpan[], judgedTo: number): boolean {
  return spans.some(({ state, from, to, reason }, i) => {
    if (from < judgedTo || (state !== 'disturbed' && state !== 'moving')) return false;
    const stopped = spans[i + 1]?.state === 'idle' && (to ?? Infinity) - from <= OF_THE_STOP_S;
    return SEEN.has(reason.code) && !stopped;
  });
}

/** A diagnosis whose readings something was seen to change after: what read as sound is not called so now. */
export function openAfterChange(diagnosis: Diagnosis): Diagnosis {
  if (diagnosis.answer !== 'nothingWrong') return diagnosis;
  return { ...diagnosis, answer: 'cannotTell', nextCheck: null, open: { code: 'CHANGED_AFTER' } };
}
