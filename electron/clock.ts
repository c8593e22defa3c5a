import type { Unsubscribe } from './sources/source.ts';

/** The host's clock; a test hands in its own. */
export interface Clock {
  /** Wall-clock time, ms since 1970. */
  now(): number;
  /** Calls `fn` every so many milliseconds until the returned call ends it. */
  every(ms: number, fn: () => void): Unsubscribe;
}

export const systemClock: Clock = {
  now: () => Date.now(),
  every(ms, fn) {
    const timer = setInterval(fn, ms);
    // A timer alone must not keep the program from ending.
    timer.unref();
    return () => clearInterval(timer);
  },
};
