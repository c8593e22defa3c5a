/**
 * The noise of one quantity, told apart from its motion by second differences: they cancel level
 * and slope (Hadamard variance). Taken at several block lengths, so that noise that is correlated
 * in time is not averaged away faster than it really averages.
 */

/** Block lengths looked at, in base blocks. */
const SCALES = [1, 2, 4, 8] as const;
/** Base blocks remembered: three of the longest scale and one. */
const RING = 3 * 8 + 1;
/** Base blocks over which the noise is remembered, by scale. */
const MEMORY = [36, 36, 48, 72] as const;
/** A squared second difference counts at most as this multiple of its mean: motion is not noise. */
const CLIP = 10;
/** Share of repeated values from which a quantity counts as quantised (or its sensor as slow). */
const REPEAT_SHARE = 0.25;

export interface Noise {
  /** Takes a frame's value (NaN is skipped). */
  frame(value: number): void;
  /** Takes a base block's mean and its seconds with a value. */
  block(mean: number, seconds: number): void;
  /** Noise density S, K²·s: a mean over T seconds has variance S / T. */
  density(): number;
  /** Step of the quantisation seen in the data, K; 0 where none is seen. */
  quantum(): number;
  /** Variance of what averaging cannot remove: the rounding of a quantised value, K². */
  rounding(): number;
  /** The next second differences span a jump: forget the ring, keep what was learnt. */
  cut(): void;
}

/** A fresh noise estimate. */
export function createNoise(): Noise {
  const ring = new Float64Array(RING); // running sums of base block means
  const variance = new Float64Array(SCALES.length); // of a block mean at each scale
  const counts = new Float64Array(SCALES.length);
  let blocks = 0;
  let blockSeconds = 0;
  let last = NaN;
  let repeats = 0;
  let jump = 0;
  let jumps = 0;

  const cumulative = (back: number): number => ring[(blocks - back + 10 * RING) % RING] ?? 0;

  const update = (s: number): void => {
    const m = SCALES[s] ?? 1;
    if (blocks < 3 * m) return;
    const c0 = cumulative(0);
    const c1 = cumulative(m);
    const c2 = cumulative(2 * m);
    const c3 = cumulative(3 * m);
    const d = (c0 - 3 * c1 + 3 * c2 - c3) / m;
    const seen = counts[s] ?? 0;
    const old = variance[s] ?? 0;
    let v = (d * d) / 6;
    // A longer scale starts from what the shorter one says of white noise.
    if (seen === 0 && s > 0) {
      variance[s] = (variance[s - 1] ?? 0) / 2;
      counts[s] = 4;
      return;
    }
    if (seen > 3) v = Math.min(v, CLIP * old + 1e-9);
    const n = Math.min(seen + 1, MEMORY[s] ?? 36);
    variance[s] = old + (v - old) / n;
    counts[s] = n;
  };

  const density = (): number => {
    let most = 0;
    for (let s = 0; s < SCALES.length; s += 1) {
      if ((counts[s] ?? 0) === 0) continue;
      most = Math.max(most, (variance[s] ?? 0) * (SCALES[s] ?? 1) * blockSeconds);
    }
    return most;
  };

  const quantum = (): number => (repeats > REPEAT_SHARE && jumps > 0 ? jump : 0);

  return {
    frame(value) {
      if (Number.isNaN(value)) return;
      if (!Number.isNaN(last)) {
        const d = Math.abs(value - last);
        const same = d < 1e-9;
        repeats += ((same ? 1 : 0) - repeats) / 60;
        if (!same) {
          jumps = Math.min(jumps + 1, 20);
          jump += (d - jump) / jumps;
        }
      }
      last = value;
    },
    block(mean, seconds) {
      if (!(seconds > 0)) return;
      blockSeconds += (seconds - blockSeconds) / Math.min(blocks + 1, 20);
      const before = cumulative(0);
      blocks += 1;
      ring[blocks % RING] = before + mean;
      for (let s = 0; s < SCALES.length; s += 1) update(s);
    },
    density,
    quantum,
    rounding() {
      const q = quantum();
      if (q === 0) return 0;
      // Noise wider than the step dithers the rounding away (first harmonic of its error).
      const perFrame = (variance[0] ?? 0) * blockSeconds;
      const spread = Math.max(0, perFrame - (q * q) / 12);
      return ((q * q) / 12) * Math.exp((-4 * Math.PI * Math.PI * spread) / (q * q));
    },
    cut() {
      blocks = 0;
      ring.fill(0);
      last = NaN;
    },
  };
}
