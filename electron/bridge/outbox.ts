import type { HubEvent } from './hub.ts';

/** Session views under way to one client and not yet acknowledged, per role. */
const MAX_UNDER_WAY = 2;

/** An event as it goes to a client; one with a number wants an acknowledgement. */
export interface Outgoing {
  readonly event: HubEvent['name'];
  readonly payload: unknown;
  readonly n?: number;
}

/** The events on their way to one client. */
export interface Outbox {
  post(event: HubEvent): void;
  /** The client has taken the event with this number. */
  acknowledge(n: number): void;
}

interface Lane {
  readonly underWay: Set<number>;
  waiting: Extract<HubEvent, { name: 'session' }>['payload'] | null;
  dropped: number;
}

/**
 * Keeps a slow client from drowning: of `session` events at most two per role are under way until
 * the client acknowledges; of those that come meanwhile only the latest is kept, and how many were
 * dropped is added to the view's `overflow`. All other events are sent at once and never dropped.
 *
 * @param send hands a message to the transport
 */
export function createOutbox(send: (message: Outgoing) => void): Outbox {
  const lanes = new Map<string, Lane>();
  let count = 0;

  const laneOf = (role: string): Lane => {
    let lane = lanes.get(role);
    if (lane === undefined) {
      lane = { underWay: new Set(), waiting: null, dropped: 0 };
      lanes.set(role, lane);
    }
    return lane;
  };

  const drain = (lane: Lane): void => {
    if (lane.waiting === null || lane.underWay.size >= MAX_UNDER_WAY) return;
    const view = lane.waiting;
    lane.waiting = null;
    count += 1;
    lane.underWay.add(count);
    const payload = { ...view, overflow: view.overflow + lane.dropped };
    send({ event: 'session', payload, n: count });
  };

  return {
    post(event) {
      if (event.name === 'sessionClosed') lanes.delete(event.payload.role);
      if (event.name !== 'session') {
        send({ event: event.name, payload: event.payload });
        return;
      }
      const lane = laneOf(event.payload.role);
      if (lane.waiting !== null) lane.dropped += 1;
      lane.waiting = event.payload;
      drain(lane);
    },
    acknowledge(n) {
      for (const lane of lanes.values()) {
        if (lane.underWay.delete(n)) drain(lane);
      }
    },
  };
}
