import type { EngineState } from '../../core/engine-types.ts';
import type { Mark, Mode } from '../../core/circuit/types.ts';
import type { FINDING_KINDS } from '../../core/record/job.ts';
import type { SourceKind } from '../../core/record/session.ts';
import type { GapReason } from '../../core/stream/sample.ts';
import type { QuantityKey, Reason, SteadinessState } from '../../core/steadiness/types.ts';
import type { HealthState } from '../../electron/bridge/views.ts';
import type { Room } from '../store/store.ts';

/** The words of closed sets, in one place. */

export const ROOM_TEXT: Record<Room, string> = {
  watch: 'Watch',
  job: 'Job',
  review: 'Review',
  sensors: 'Sensors',
};

/** The one word of a state, large enough for two metres. */
export const STATE_TEXT: Record<SteadinessState, string> = {
  idle: 'Off',
  starting: 'Starting',
  moving: 'Moving',
  hunting: 'Hunting',
  settled: 'Still',
  disturbed: 'Disturbed',
  blind: 'Blind',
};

/** The state in a word or two; before anything was heard a unit is not off but waited for. */
export function stateWord(state: SteadinessState, reason: Reason): string {
  return isWaiting(state, reason) ? 'Waiting' : STATE_TEXT[state];
}

/** Whether nothing was heard of a unit yet. */
export function isWaiting(state: SteadinessState, reason: Reason): boolean {
  return state === 'idle' && reason.code === 'noData';
}

/** The same of an engine's state. */
export function isUnheard({ steadiness }: EngineState): boolean {
  return isWaiting(steadiness.state, steadiness.reason);
}

/** Whether the numbers are worth reading in a state, in one line. */
export const WORTH_TEXT: Record<SteadinessState, string> = {
  idle: 'Standing pressures, no running figures.',
  starting: 'Too early to judge the charge by these.',
  moving: 'Still moving: do not judge the charge by these.',
  hunting: 'Averages over whole swings.',
  settled: 'At rest: worth reading.',
  disturbed: 'Just disturbed: do not judge the charge by these.',
  blind: 'A needed reading is missing.',
};

export const GAP_TEXT: Record<GapReason, string> = {
  empty: 'empty cell in the file',
  untyped: 'typed, nothing newer',
  lost: 'link to the sensor lost',
  silent: 'nothing heard for three periods',
  implausible: 'outside the plausible range',
  notKnown: 'the sensor does not know',
  restarted: 'recording restarted',
  paused: 'recording paused',
};

export const MARK_TEXT: Record<Mark, string> = {
  simulated: 'SIMULATED',
  assumedAccuracy: 'sensor accuracy assumed',
  assumedAtmosphere: 'atmosphere assumed at sea level',
  altitudeAtmosphere: 'atmosphere from the altitude',
  hunting: 'averaged over whole swings',
  unsettled: 'not at rest',
  stale: 'a reading was stale',
  beforeSpan: 'read just before the span, which was too short to average',
  dischargePressureUsed: 'discharge pressure used for subcooling',
  typedByHand: 'typed by hand',
};

export const SOURCE_TEXT: Record<SourceKind, string> = {
  simulated: 'SIMULATED',
  file: 'From a file',
  replay: 'Replay',
  manual: 'Typed by hand',
  radio: 'Sensors',
};

export const HEALTH_TEXT: Record<HealthState, string> = {
  off: 'stopped',
  starting: 'starting',
  running: 'running',
  paused: 'paused',
  ended: 'at its end',
  reconnecting: 'reconnecting',
  unavailable: 'not available',
  failed: 'failed',
};

export const MODE_TEXT: Record<Mode, string> = { cooling: 'Cooling', heating: 'Heating' };

export const FINDING_TEXT: Record<(typeof FINDING_KINDS)[number], string> = {
  icedCoil: 'Iced coil',
  dirtyFilter: 'Dirty filter',
  fouledOutdoorCoil: 'Fouled outdoor coil',
  oilTraces: 'Oil traces',
  burntContacts: 'Burnt contacts',
  waterDamage: 'Water damage',
  noise: 'Noise',
  other: 'Other',
};

/** A judged quantity, long for rows and short for the ends of lines. */
export const QUANTITY_TEXT: Record<QuantityKey, { readonly long: string; readonly short: string }> =
  {
    suctionSaturation: { long: 'Evaporating', short: 'Evap' },
    liquidSaturation: { long: 'Condensing', short: 'Cond' },
    superheat: { long: 'Superheat', short: 'SH' },
    subcooling: { long: 'Subcooling', short: 'SC' },
    airDrop: { long: 'Air drop', short: 'Air' },
  };

/** The long name of a judged quantity as it is told in a mode. */
export function quantityText(key: QuantityKey, mode: Mode): string {
  return key === 'airDrop' && mode === 'heating' ? 'Air rise' : QUANTITY_TEXT[key].long;
}
