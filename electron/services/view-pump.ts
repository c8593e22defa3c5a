import type { Clock } from '../clock.ts';
import type { Unsubscribe } from '../sources/source.ts';

/** Ten views a second are as many as an eye can follow. */
const PERIOD_MS = 100;

/** Sends a view soon after something changed, never more often than ten times a second. */
export interface ViewPump {
  /** Something changed. */
  touch(): void;
  /** Sends now, whatever the time, if something changed since. */
  flush(): void;
  stop: Unsubscribe;
}

export function createViewPump(clock: Clock, send: () => void): ViewPump {
  let changed = false;
  const flush = (): void => {
    if (!changed) return;
    changed = false;
    send();
  };
  const stop = clock.every(PERIOD_MS, flush);
  return {
    touch: () => {
      changed = true;
    },
    flush,
    stop,
  };
}
