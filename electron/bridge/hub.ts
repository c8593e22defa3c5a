import type { EventName, Events } from './events.ts';
import type { Unsubscribe } from '../sources/source.ts';

/** One event with its payload. */
export type HubEvent = {
  [E in EventName]: { readonly name: E; readonly payload: Events[E] };
}[EventName];

/** Where services tell what happened and transports listen. */
export interface Hub {
  emit<E extends EventName>(name: E, payload: Events[E]): void;
  subscribe(fn: (event: HubEvent) => void): Unsubscribe;
}

/** Builds a hub; a listener that throws does not keep the others from hearing. */
export function createHub(report: (what: string, error: unknown) => void): Hub {
  const listeners = new Set<(event: HubEvent) => void>();
  return {
    emit(name, payload) {
      for (const fn of [...listeners]) {
        try {
          fn({ name, payload } as HubEvent);
        } catch (error) {
          report(`listener of ${name}`, error);
        }
      }
    },
    subscribe(fn) {
      // A listener given twice is two subscriptions: each has its own end.
      const own = (event: HubEvent): void => fn(event);
      listeners.add(own);
      return () => {
        listeners.delete(own);
      };
    },
  };
}
