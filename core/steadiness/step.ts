/**
 * Notices a sudden change of one quantity: the median of a newest stretch against a straight line
 * through a longer stretch before, measured by how well that same comparison usually comes out for
 * this quantity. The yardstick therefore already holds the sensor's noise, its rounding and any
 * swing, whatever they are.
 */

/** The stretches that are compared, s. */
export interface Stretches {
  /** The newest stretch (at least two values). */
  readonly fresh: number;
  /** Left out between the stretches: what is sluggish is already moving there. */
  readonly guard: number;
  /** The stretch before (at least four values). */
  readonly base: number;
  /** Over how long the usual error is remembered, and after how long it is known. */
  readonly memory: number;
  readonly learnt: number;
}

const RING = 64;
/** Values of the newest stretch that are looked at. */
const MOST_FRESH = 8;
/** Least values over which the usual error is remembered, and after which it is known. */
const MEMORY_VALUES = 15;
const LEARNT_VALUES = 8;
/** A flip of the last digit of a quantised value is no surprise. */
const FLIP_SHARE = 0.35;
/** Share of the slope of the stretch before that is taken to go on. */
const SLOPE_SHARE = 0.7;
/**
 * A steep approach bends: of what the line runs through over its length, this share may be missed
 * without surprise.
 */
const BEND_SHARE = 1;

/** Watches one quantity. */
export class StepWatch {
  readonly #floor: number;
  readonly #of: Stretches;
  readonly #times = new Float64Array(RING);
  readonly #values = new Float64Array(RING);
  /** The values as the line sees them: a single wild one must not tilt it. */
  readonly #mild = new Float64Array(RING);
  readonly #newest = new Float64Array(MOST_FRESH);
  /** Values taken so far; and those of them that are in the line: from #out to before #in. */
  #count = 0;
  #in = 0;
  #out = 0;
  /** Sums of the line, about an origin in time and value. */
  #originT = 0;
  #originY = 0;
  #sx = 0;
  #sy = 0;
  #sxx = 0;
  #sxy = 0;
  #usual = NaN;
  #learnt = 0;
  #error = 0;
  #ratio = 0;
  #within = 0;
  #bend = 0;

  /** @param floor smallest usual error assumed, K */
  constructor(floor: number, stretches: Stretches) {
    this.#floor = floor;
    this.#of = stretches;
  }

  /**
   * Takes a value; NaN is skipped.
   * @param pace seconds between values
   * @param flip the step of its last digit where it is quantised, else 0
   */
  push(t: number, pace: number, value: number, flip: number): void {
    if (Number.isNaN(value)) return;
    this.#times[this.#count % RING] = t;
    this.#values[this.#count % RING] = value;
    this.#count += 1;
    const error = this.#compare(t, pace);
    this.#error = Number.isNaN(error) ? 0 : error;
    this.#ratio = 0;
    if (!Number.isNaN(error)) this.#measure(error, pace, flip);
  }

  /** Error of the last comparison relative to the usual one; 0 while it cannot be told. */
  surprise(): number {
    return this.#ratio;
  }

  /** The last comparison's error, K. */
  size(): number {
    return this.#error;
  }

  /** Time within which a change shows in it, s. */
  within(): number {
    return Math.round(this.#within);
  }

  /** Forgets the values, keeps the yardstick. */
  cut(): void {
    this.#count = 0;
    this.#clearLine();
    this.#error = 0;
    this.#ratio = 0;
  }

  /** Forgets the yardstick too. */
  forget(): void {
    this.cut();
    this.#usual = NaN;
    this.#learnt = 0;
  }

  #clearLine(): void {
    this.#in = 0;
    this.#out = 0;
    this.#sx = 0;
    this.#sy = 0;
    this.#sxx = 0;
    this.#sxy = 0;
  }

  /** Holds an error against the usual one, which learns from it. */
  #measure(error: number, pace: number, flip: number): void {
    const { memory, learnt } = this.#of;
    const magnitude = Math.abs(error);
    const before = Number.isNaN(this.#usual) ? magnitude : this.#usual;
    if (this.#learnt >= Math.max(learnt, LEARNT_VALUES * pace) - 1e-6) {
      this.#ratio = error / Math.max(before, this.#floor, FLIP_SHARE * flip);
      if (magnitude < BEND_SHARE * this.#bend) this.#ratio = 0;
    }
    const longest = Math.max(memory, MEMORY_VALUES * pace);
    const gain = Math.min(1, pace / Math.min(longest, this.#learnt + pace));
    this.#usual = before + gain * (Math.min(magnitude, 3 * Math.max(before, this.#floor)) - before);
    this.#learnt = Math.min(this.#learnt + pace, longest);
  }

  /** Median of the newest stretch minus the line through the one before; NaN without enough. */
  #compare(now: number, pace: number): number {
    const fresh = Math.max(this.#of.fresh, 2 * pace) - 1e-6;
    const guard = fresh + Math.max(this.#of.guard, pace);
    const oldest = guard + Math.max(this.#of.base, 5 * pace);
    this.#within = guard;
    this.#moveLine(now, guard, oldest);
    let age = 0;
    let m = 0;
    for (let i = this.#count - 1; i >= 0 && i > this.#count - RING && m < MOST_FRESH; i -= 1) {
      const a = now - (this.#times[i % RING] ?? 0);
      if (a >= fresh) break;
      this.#newest[m] = this.#values[i % RING] ?? 0;
      age += a;
      m += 1;
    }
    const n = this.#in - this.#out;
    if (m < 2 || n < 4) return NaN;
    const spread = this.#sxx - (this.#sx * this.#sx) / n;
    const steep = spread > 0 ? (this.#sxy - (this.#sx * this.#sy) / n) / spread : 0;
    this.#bend = Math.abs(steep) * (oldest - guard);
    // Not the whole slope: a line drawn through noise or the flank of a swing overshoots.
    const x = now - age / m - this.#originT;
    const expected = this.#originY + this.#sy / n + SLOPE_SHARE * steep * (x - this.#sx / n);
    return typical(this.#newest, m, expected);
  }

  /** Lets values into the line that have become old enough, and out those that are too old. */
  #moveLine(now: number, guard: number, oldest: number): void {
    if (this.#in === this.#out) {
      this.#clearLineAt(Math.max(this.#in, this.#count - RING + 1));
    }
    while (this.#in < this.#count - 1 && now - (this.#times[this.#in % RING] ?? 0) >= guard) {
      const i = this.#in % RING;
      const y = this.#values[i] ?? 0;
      const before = this.#in > 0 ? (this.#values[(this.#in - 1) % RING] ?? y) : y;
      this.#mild[i] = middle(before, y, this.#values[(this.#in + 1) % RING] ?? y);
      this.#add(i, 1);
      this.#in += 1;
    }
    while (
      this.#out < this.#in &&
      (now - (this.#times[this.#out % RING] ?? 0) > oldest || this.#out <= this.#count - RING)
    ) {
      this.#add(this.#out % RING, -1);
      this.#out += 1;
      // Anew once a round: what rounding leaves in running sums must not add up.
      if (this.#out % RING === 0) this.#sumAnew();
    }
  }

  #clearLineAt(i: number): void {
    this.#clearLine();
    this.#in = i;
    this.#out = i;
    this.#originT = this.#times[i % RING] ?? 0;
    this.#originY = this.#values[i % RING] ?? 0;
  }

  #sumAnew(): void {
    const end = this.#in;
    this.#clearLineAt(this.#out);
    for (; this.#in < end; this.#in += 1) this.#add(this.#in % RING, 1);
  }

  #add(i: number, sign: 1 | -1): void {
    const x = (this.#times[i] ?? 0) - this.#originT;
    const y = (this.#mild[i] ?? 0) - this.#originY;
    this.#sx += sign * x;
    this.#sy += sign * y;
    this.#sxx += sign * x * x;
    this.#sxy += sign * x * y;
  }
}

/** How far the newest stretch lies off a value: its median, or the nearer one of two. */
function typical(newest: Float64Array, count: number, expected: number): number {
  const a = (newest[0] ?? 0) - expected;
  const b = (newest[1] ?? 0) - expected;
  if (count === 2) {
    if (a * b <= 0) return 0;
    return Math.abs(a) < Math.abs(b) ? a : b;
  }
  sortFirst(newest, count);
  return ((newest[(count - 1) >> 1] ?? 0) + (newest[count >> 1] ?? 0)) / 2 - expected;
}

/** Sorts the first few numbers in place. */
function sortFirst(x: Float64Array, count: number): void {
  for (let i = 1; i < count; i += 1) {
    const value = x[i] ?? 0;
    let j = i - 1;
    for (; j >= 0 && (x[j] ?? 0) > value; j -= 1) x[j + 1] = x[j] ?? 0;
    x[j + 1] = value;
  }
}

/** The middle one of three. */
function middle(a: number, b: number, c: number): number {
  return Math.max(Math.min(a, b), Math.min(Math.max(a, b), c));
}
