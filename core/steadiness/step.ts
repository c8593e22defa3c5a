/**
 * Notices a sudden change of one quantity: its newest values against a straight line through a longer
 * stretch before, measured by how well that same comparison usually comes out for this quantity. The
 * yardstick therefore already holds the sensor's noise, its rounding and any swing, whatever they are.
 * Three looks are taken at once: fewer values tell sooner, more of them tell of less.
 */

/** The newest value alone; the middle one of three; the median of the newest stretch. */
export const LOOKS = { newest: 0, three: 1, stretch: 2 } as const;
export type Look = (typeof LOOKS)[keyof typeof LOOKS];
const LOOK_COUNT = 3;

/** The stretches that are compared, s. */
export interface Stretches {
  /** The newest stretch (at least three values: half of two may be one wild one). */
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
/** Mean magnitude of a normal error in its standard deviations: root of 2 / pi. */
const MEAN_MAGNITUDE = Math.sqrt(2 / Math.PI);
/** Usual errors by which a value may pull at the line. */
const TAME = 5;
/** A reading that stands for so long, and came so often, is what a coarse display shows. */
const STANDS_S = 10;
const STANDS_VALUES = 3;
/** A newest value nearer to the line than this share of what was seen before it is back there. */
const BACK = 0.5;
/** Readings nearer than this are the same, K: what is left is rounding of the arithmetic. */
const SAME = 1e-9;

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
  /** By look: the usual error, the last one, and how many standard deviations that is. */
  readonly #usual = new Float64Array(LOOK_COUNT).fill(NaN);
  readonly #error = new Float64Array(LOOK_COUNT);
  readonly #ratio = new Float64Array(LOOK_COUNT);
  #loudest = 0;
  #furthest = 0;
  #learnt = 0;
  #within = 0;
  #bend = 0;
  /** The last reading, how often it came in a row, and how many values the stretch had. */
  #reading = NaN;
  #run = 0;
  #pace = 1;
  #stretch = 0;

  /** @param floor smallest usual error assumed, K */
  constructor(floor: number, stretches: Stretches) {
    this.#floor = floor;
    this.#of = stretches;
  }

  /**
   * Takes a value; NaN is skipped.
   * @param pace seconds between values
   * @param flip the step of its last digit where it is quantised, else 0
   * @param reading what its sensor showed: the same again is no new evidence
   */
  push(t: number, pace: number, value: number, flip: number, reading: number): void {
    if (Number.isNaN(value)) return;
    this.#run = Math.abs(reading - this.#reading) < SAME ? this.#run + 1 : 1;
    this.#reading = reading;
    this.#pace = pace;
    this.#times[this.#count % RING] = t;
    this.#values[this.#count % RING] = value;
    this.#count += 1;
    if (this.#compare(t, pace)) this.#measure(pace, flip);
    else this.#clearLooks();
  }

  /** Error of the last comparison in its usual standard deviations; 0 while it cannot be told. */
  surprise(look: Look): number {
    return this.#ratio[look] ?? 0;
  }

  /** The last comparison's error, K. */
  size(look: Look): number {
    return this.#error[look] ?? 0;
  }

  /** The greatest surprise of all looks, and their greatest error, K. */
  loudest(): number {
    return this.#loudest;
  }

  furthest(): number {
    return this.#furthest;
  }

  /** How often the newest reading came in a row. */
  run(): number {
    return this.#run;
  }

  /**
   * Whether what a look saw may all be one reading (of its sensors): it came so often in a row, or
   * the newest value is back again. What stands for long is no reading sent again.
   */
  isOne(look: Look, run: number): boolean {
    if (look === LOOKS.newest) return true;
    const newest = this.size(LOOKS.newest);
    const error = this.size(look);
    if (newest * error < BACK * error * error) return true;
    if (run >= STANDS_VALUES && run * this.#pace >= STANDS_S) return false;
    return look === LOOKS.three ? run > 1 : run > this.#stretch / 2;
  }

  /** Time within which a change shows in it, s. */
  within(): number {
    return Math.round(this.#within);
  }

  /** Forgets the values, keeps the yardstick. */
  cut(): void {
    this.#count = 0;
    this.#clearLine();
    this.#clearLooks();
  }

  /** Forgets the yardstick too. */
  forget(): void {
    this.cut();
    this.#usual.fill(NaN);
    this.#learnt = 0;
  }

  #clearLooks(): void {
    this.#error.fill(0);
    this.#ratio.fill(0);
    this.#loudest = 0;
    this.#furthest = 0;
  }

  #clearLine(): void {
    this.#in = 0;
    this.#out = 0;
    this.#sx = 0;
    this.#sy = 0;
    this.#sxx = 0;
    this.#sxy = 0;
  }

  /** Holds the errors against the usual ones, which learn from them. */
  #measure(pace: number, flip: number): void {
    const { memory, learnt } = this.#of;
    const known = this.#learnt >= Math.max(learnt, LEARNT_VALUES * pace) - 1e-6;
    const longest = Math.max(memory, MEMORY_VALUES * pace);
    const gain = Math.min(1, pace / Math.min(longest, this.#learnt + pace));
    const bend = known ? BEND_SHARE * this.#bend : Infinity;
    const rounding = FLIP_SHARE * flip;
    this.#loudest = 0;
    this.#furthest = 0;
    for (let look = 0; look < LOOK_COUNT; look += 1) {
      const error = this.#error[look] ?? 0;
      const magnitude = Math.abs(error);
      const usual = this.#usual[look] ?? NaN;
      const before = Number.isNaN(usual) ? magnitude : usual;
      const least = Math.max(before, this.#floor);
      const ratio = magnitude < bend ? 0 : (MEAN_MAGNITUDE * error) / Math.max(least, rounding);
      this.#ratio[look] = ratio;
      this.#loudest = Math.max(this.#loudest, Math.abs(ratio));
      this.#furthest = Math.max(this.#furthest, magnitude);
      this.#usual[look] = before + gain * (Math.min(magnitude, 3 * least) - before);
    }
    this.#learnt = Math.min(this.#learnt + pace, longest);
  }

  /** The newest values minus the line through the stretch before; false without enough. */
  #compare(now: number, pace: number): boolean {
    const fresh = Math.max(this.#of.fresh, 3 * pace) - 1e-6;
    const guard = fresh + Math.max(this.#of.guard, pace);
    const oldest = guard + Math.max(this.#of.base, 5 * pace);
    this.#within = guard;
    this.#moveLine(now, guard, oldest);
    const n = this.#in - this.#out;
    const spread = this.#sxx - (this.#sx * this.#sx) / n;
    const steep = spread > 0 ? (this.#sxy - (this.#sx * this.#sy) / n) / spread : 0;
    this.#bend = Math.abs(steep) * (oldest - guard);
    // Not the whole slope: a line drawn through noise or the flank of a swing overshoots.
    const slope = SLOPE_SHARE * steep;
    const level = this.#originY + this.#sy / n - slope * (this.#originT + this.#sx / n);
    let m = 0;
    for (let i = this.#count - 1; i >= 0 && i > this.#count - RING && m < MOST_FRESH; i -= 1) {
      const then = this.#times[i % RING] ?? 0;
      if (now - then >= fresh) break;
      this.#newest[m] = (this.#values[i % RING] ?? 0) - (level + slope * then);
      m += 1;
    }
    if (m < 2 || n < 4) return false;
    this.#stretch = m;
    const a = this.#newest[0] ?? 0;
    const b = this.#newest[1] ?? 0;
    const three = m === 2 ? nearer(a, b) : middle(a, b, this.#newest[2] ?? 0);
    this.#error[LOOKS.newest] = a;
    this.#error[LOOKS.three] = three;
    this.#error[LOOKS.stretch] = m <= 3 ? three : medianOf(this.#newest, m);
    return true;
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
      this.#mild[i] = this.#tame(middle(before, y, this.#values[(this.#in + 1) % RING] ?? y), i);
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

  /**
   * A value no further off the line than noise goes, where the newest ones are back at the line: what
   * came and went was no step, and must not tilt it.
   */
  #tame(y: number, i: number): number {
    const n = this.#in - this.#out;
    const usual = this.#usual[LOOKS.newest] ?? NaN;
    if (n < LEARNT_VALUES || Number.isNaN(usual)) return y;
    const spread = this.#sxx - (this.#sx * this.#sx) / n;
    const steep = spread > 0 ? (this.#sxy - (this.#sx * this.#sy) / n) / spread : 0;
    const x = (this.#times[i] ?? 0) - this.#originT;
    const line = this.#originY + this.#sy / n + steep * (x - this.#sx / n);
    const most = TAME * Math.max(usual, this.#floor);
    if (Math.abs(this.#error[LOOKS.stretch] ?? 0) > most) return y;
    return Math.max(line - most, Math.min(line + most, y));
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

/** The nearer to zero of two; zero where they disagree. */
function nearer(a: number, b: number): number {
  if (a * b <= 0) return 0;
  return Math.abs(a) < Math.abs(b) ? a : b;
}

/** The median of the first few numbers, which it sorts. */
function medianOf(x: Float64Array, count: number): number {
  sortFirst(x, count);
  return ((x[(count - 1) >> 1] ?? 0) + (x[count >> 1] ?? 0)) / 2;
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
