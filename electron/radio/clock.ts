/** Time, so that tests can hold it. */
export interface RadioClock {
  /** Seconds of the machine's monotonic clock, the same in every process. */
  now(): number;
  /** Calls `fn` every `ms` until the returned function is called. */
  every(ms: number, fn: () => void): () => void;
  /** Calls `fn` once after `ms` unless the returned function is called before. */
  after(ms: number, fn: () => void): () => void;
}

/** The machine's own clock. */
export const systemClock: RadioClock = {
  now: () => Number(process.hrtime.bigint()) / 1e9,
  every: (ms, fn) => {
    const timer = setInterval(fn, ms);
    return () => clearInterval(timer);
  },
  after: (ms, fn) => {
    const timer = setTimeout(fn, ms);
    return () => clearTimeout(timer);
  },
};
