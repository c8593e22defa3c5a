import type { Reason, SteadinessState } from './types.ts';

/**
 * Whether the averages of a state can be read as those of a unit at rest: settled, or hunting about
 * a mean that is at rest.
 */
export function meanAtRest(said: {
  readonly state: SteadinessState;
  readonly reason: Reason;
}): boolean {
  if (said.state === 'settled') return true;
  if (said.state !== 'hunting') return false;
  return said.reason.code !== 'swinging' || (said.reason.adrift ?? null) === null;
}

/** Whether it is known of a unit that it does not run: not only that nothing was heard of it yet. */
export function unitStands(said: {
  readonly state: SteadinessState;
  readonly reason: Reason;
}): boolean {
  return said.state === 'idle' && said.reason.code !== 'noData';
}
