/**
 * Sorts samples into one-second bins and closes each bin once, a fixed lateness after its end by
 * the stream's own clock (the latest time seen). What arrives after that is late: counted, not
 * averaged. Nothing depends on how samples were batched, only on their order of arrival.
 */

/** Seconds of one bin. */
export const BIN_S = 1;
/** Seconds a bin stays open after its end for samples that arrive late or out of order. */
export const LATENESS_S = 1;
/** Empty bins passed one by one before a long silence is jumped over. */
const MAX_EMPTY_STEPS = 120;
const OPEN_BINS = 4;

/** Sums of one closed bin, by channel index. The arrays are reused: read them at once. */
export interface ClosedBin {
  /** End of the bin, s. */
  readonly t: number;
  readonly sums: Float64Array;
  readonly counts: Int32Array;
  /** Whether any value is in it. */
  readonly filled: boolean;
}

export interface Binner {
  /** Whether a value of this time would come too late. */
  isLate(t: number): boolean;
  /** Adds a value; false when it came too late. */
  add(channel: number, t: number, value: number): boolean;
  /** Lets time pass without a value (a gap). */
  advance(t: number): void;
  /** Closes all open bins. */
  finish(): void;
}

interface OpenBin {
  readonly sums: Float64Array;
  readonly counts: Int32Array;
  filled: boolean;
}

/**
 * @param channels number of channels
 * @param onBin called for each bin in order of time, empty ones too (a long silence is shortened)
 */
export function createBinner(channels: number, onBin: (bin: ClosedBin) => void): Binner {
  const bins: OpenBin[] = Array.from({ length: OPEN_BINS }, () => ({
    sums: new Float64Array(channels),
    counts: new Int32Array(channels),
    filled: false,
  }));
  let next: number | null = null; // index of the oldest open bin
  let watermark = -Infinity;

  const binAt = (k: number): OpenBin => {
    const bin = bins[((k % OPEN_BINS) + OPEN_BINS) % OPEN_BINS];
    if (bin === undefined) throw new Error('bin index');
    return bin;
  };

  const close = (k: number): void => {
    const bin = binAt(k);
    onBin({ t: (k + 1) * BIN_S, sums: bin.sums, counts: bin.counts, filled: bin.filled });
    if (bin.filled) {
      bin.sums.fill(0);
      bin.counts.fill(0);
      bin.filled = false;
    }
  };

  const closeUpTo = (t: number): void => {
    if (next === null) return;
    const last = Math.floor((t - LATENESS_S) / BIN_S) - 1; // newest bin that may be closed
    for (let steps = 0; next <= last; steps += 1) {
      if (steps === MAX_EMPTY_STEPS) next = Math.max(next, last);
      close(next);
      next += 1;
    }
  };

  const move = (t: number): void => {
    if (t <= watermark) return;
    watermark = t;
    next ??= Math.floor(t / BIN_S);
    closeUpTo(t);
  };

  const isLate = (t: number): boolean => next !== null && Math.floor(t / BIN_S) < next;

  return {
    isLate,
    add(channel, t, value) {
      move(t);
      if (isLate(t)) return false;
      const bin = binAt(Math.floor(t / BIN_S));
      bin.sums[channel] = (bin.sums[channel] ?? 0) + value;
      bin.counts[channel] = (bin.counts[channel] ?? 0) + 1;
      bin.filled = true;
      return true;
    },
    advance: move,
    finish() {
      if (next === null) return;
      const last = Math.floor(watermark / BIN_S);
      for (; next <= last; next += 1) close(next);
    },
  };
}
