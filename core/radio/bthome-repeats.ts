import { toHex, type Bytes } from './bytes.ts';
import type { BthomePacket } from './bthome.ts';

/** What is remembered of a sensor's broadcasts, to tell a new one from a repetition. */
export interface BroadcastMemory {
  readonly t: number;
  readonly packetId: number | null;
  readonly counter: number | null;
  readonly payload: string;
}

export type BroadcastVerdict = 'new' | 'repeat' | 'replayed';

/**
 * A sensor repeats each broadcast several times a second. After this long an identical one without
 * packet id counts as a new reading, so that a steady value does not look like silence (seconds;
 * common practice, no source).
 */
const REPEAT_WINDOW_S = 4;
/** A counter below this after a pause is a sensor that restarted (common practice, no source). */
const RESTART_COUNTER = 100;
/** How long nothing new must have come before a restart of the counter is believed; our choice. */
const RESTART_PAUSE_S = 30;

/**
 * Tells whether a broadcast is a new reading. Encrypted ones must count upwards, else they are
 * replayed; only a small counter after a long pause is taken as a restart. Otherwise the packet id
 * decides, and without one the payload and the time.
 *
 * @param t seconds, when it arrived
 */
export function judgeBroadcast(
  memory: BroadcastMemory | null,
  packet: BthomePacket,
  bytes: Bytes,
  t: number,
): { readonly verdict: BroadcastVerdict; readonly memory: BroadcastMemory } {
  const next: BroadcastMemory = {
    t,
    packetId: packet.packetId,
    counter: packet.counter,
    payload: toHex(bytes),
  };
  if (memory === null) return { verdict: 'new', memory: next };
  const verdict = compare(memory, next);
  return { verdict, memory: verdict === 'new' ? next : memory };
}

function compare(last: BroadcastMemory, next: BroadcastMemory): BroadcastVerdict {
  if (next.counter !== null && last.counter !== null) {
    if (next.counter === last.counter) return 'repeat';
    if (next.counter > last.counter) return 'new';
    const restarted = next.counter < RESTART_COUNTER && next.t - last.t > RESTART_PAUSE_S;
    return restarted ? 'new' : 'replayed';
  }
  if (next.payload !== last.payload) {
    return 'new';
  }
  if (next.packetId !== null) return 'repeat';
  return next.t - last.t > REPEAT_WINDOW_S ? 'new' : 'repeat';
}
