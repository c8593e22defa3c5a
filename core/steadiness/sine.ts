/** A sine beside a straight line, fitted by least squares to the newest of a ring of bins. */

export interface SineFit {
  /** Share of the movement about the line that the sine explains. */
  explained: number;
  amplitude: number;
}

/** Terms of the fit: 1, time, cosine, sine. */
const TERMS = 4;

interface Solution {
  readonly amplitude: number;
  /** Sum of squares left by the line alone, and by line and sine. */
  readonly line: number;
  readonly rest: number;
}

/** A ring of equally long bins (NaN = no value). */
export class SineBins {
  readonly capacity: number;
  readonly #values: Float64Array;
  #head = 0;
  #size = 0;
  #span = 0;
  readonly #matrix = new Float64Array(TERMS * TERMS);
  readonly #right = new Float64Array(TERMS);

  constructor(capacity: number) {
    this.capacity = capacity;
    this.#values = new Float64Array(capacity);
  }

  /** Bins held. */
  get size(): number {
    return this.#size;
  }

  /** Usual length of a bin, s. */
  get span(): number {
    return this.#span;
  }

  push(value: number, span: number): void {
    this.#values[this.#head] = value;
    this.#head = (this.#head + 1) % this.capacity;
    this.#size = Math.min(this.#size + 1, this.capacity);
    this.#span = this.#span === 0 ? span : this.#span + (span - this.#span) / 20;
  }

  clear(): void {
    this.#head = 0;
    this.#size = 0;
  }

  /** Half of the range of the newest n bins, K. */
  halfRange(n: number): number {
    let low = Infinity;
    let high = -Infinity;
    let at = this.#head;
    for (let left = Math.min(n, this.#size); left > 0; left -= 1) {
      at = (at === 0 ? this.capacity : at) - 1;
      const value = this.#values[at] ?? NaN;
      if (value < low) low = value;
      if (value > high) high = value;
    }
    return (high - low) / 2;
  }

  /** Mean between so many bins back and fewer (fractions count); NaN where too many are empty. */
  mean(from: number, to: number): number {
    if (from > this.#size) return NaN;
    let sum = 0;
    let weight = 0;
    for (let back = Math.floor(to); back < from; back += 1) {
      const value =
        this.#values[(this.#head - 1 - back + 2 * this.capacity) % this.capacity] ?? NaN;
      const share = Math.min(back + 1, from) - Math.max(back, to);
      if (Number.isNaN(value) || !(share > 0)) continue;
      sum += share * value;
      weight += share;
    }
    return weight < 0.8 * (from - to) ? NaN : sum / weight;
  }

  /**
   * How alike the newest n bins are to those one period (s) earlier, each about its own line: the
   * correlation, 1 for any shape that repeats itself; 0 where too many bins are empty.
   */
  repeat(period: number, n: number): number {
    const lag = period / this.#span;
    const whole = Math.floor(lag);
    const part = lag - whole;
    const m = Math.min(n, this.#size - whole - 1);
    if (m < 4) return 0;
    const sums = { n: 0, t: 0, tt: 0, x: 0, y: 0, tx: 0, ty: 0, xx: 0, yy: 0, xy: 0 };
    const origin = this.#back(0);
    for (let back = 0; back < m; back += 1) {
      const x = this.#back(back) - origin;
      const a = this.#back(back + whole) - origin;
      const y = a + part * (this.#back(back + whole + 1) - origin - a);
      if (Number.isNaN(x) || Number.isNaN(y)) continue;
      sums.n += 1;
      sums.t += back;
      sums.tt += back * back;
      sums.x += x;
      sums.y += y;
      sums.tx += back * x;
      sums.ty += back * y;
      sums.xx += x * x;
      sums.yy += y * y;
      sums.xy += x * y;
    }
    if (sums.n < 4 || sums.n < 0.8 * m) return 0;
    // Products about the lines, from the sums.
    const about = (ab: number, a: number, b: number, ta: number, tb: number): number => {
      const spread = sums.tt - sums.t ** 2 / sums.n;
      const ca = ta - (sums.t * a) / sums.n;
      const cb = tb - (sums.t * b) / sums.n;
      return ab - (a * b) / sums.n - (ca * cb) / spread;
    };
    const xx = about(sums.xx, sums.x, sums.x, sums.tx, sums.tx);
    const yy = about(sums.yy, sums.y, sums.y, sums.ty, sums.ty);
    const xy = about(sums.xy, sums.x, sums.y, sums.tx, sums.ty);
    return xx > 0 && yy > 0 ? xy / Math.sqrt(xx * yy) : 0;
  }

  /**
   * Half of peak to peak within one period (s): the middle one of the newest few periods, K. A sine
   * loses as much by the averaging into bins as is added here.
   */
  halfPeak(period: number, periods: number): number {
    const each = Math.max(2, Math.round(period / this.#span));
    const count = Math.max(1, Math.min(periods, Math.floor(this.#size / each)));
    const halves: number[] = [];
    for (let k = 0; k < count; k += 1) {
      let low = Infinity;
      let high = -Infinity;
      for (let back = k * each; back < Math.min((k + 1) * each, this.#size); back += 1) {
        const value = this.#back(back);
        if (value < low) low = value;
        if (value > high) high = value;
      }
      if (high >= low) halves.push((high - low) / 2);
    }
    halves.sort((a, b) => a - b);
    const x = (Math.PI * this.#span) / period;
    return ((halves[Math.floor(halves.length / 2)] ?? 0) * x) / Math.sin(x);
  }

  /** How far the newest n bins move about their straight line, as the amplitude of a sine, K. */
  aboutLine(n: number): number {
    let count = 0;
    let t = 0;
    let tt = 0;
    let y = 0;
    let ty = 0;
    let yy = 0;
    const origin = this.#back(0);
    for (let back = 0; back < Math.min(n, this.#size); back += 1) {
      const value = this.#back(back) - origin;
      if (Number.isNaN(value)) continue;
      count += 1;
      t += back;
      tt += back * back;
      y += value;
      ty += back * value;
      yy += value * value;
    }
    const spread = count * tt - t * t;
    if (!(spread > 0)) return 0;
    const rest = yy - (y * y) / count - (count * ty - t * y) ** 2 / (count * spread);
    return Math.sqrt((2 * Math.max(0, rest)) / count);
  }

  /** The value so many bins back. */
  #back(back: number): number {
    return this.#values[(this.#head - 1 - back + 2 * this.capacity) % this.capacity] ?? NaN;
  }

  /** Fits a period (s) to the newest n bins; null where too many are empty. */
  fit(period: number, n: number): SineFit | null {
    const first = (this.#head - n + 2 * this.capacity) % this.capacity;
    const whole = this.#solve(period, first, n);
    if (whole === null) return null;
    const x = (Math.PI * this.#span) / period;
    const freedom = Math.max(1, n - TERMS) / Math.max(1, n - 2);
    const explained = whole.line > 0 ? 1 - whole.rest / freedom / whole.line : 0;
    return { explained, amplitude: (whole.amplitude * x) / Math.sin(x) };
  }

  /** Amplitude of the later half of the newest n bins relative to the earlier half. */
  ratio(period: number, n: number): number {
    const first = (this.#head - n + 2 * this.capacity) % this.capacity;
    const half = Math.floor(n / 2);
    const early = this.#solve(period, first, half);
    const late = this.#solve(period, (first + n - half) % this.capacity, half);
    if (early === null || late === null) return 1;
    return late.amplitude / Math.max(early.amplitude, 1e-9);
  }

  #solve(period: number, first: number, n: number): Solution | null {
    const m = this.#matrix;
    const r = this.#right;
    const step = (2 * Math.PI * this.#span) / period;
    let used = 0;
    let offset = NaN;
    const turnCos = Math.cos(step);
    const turnSin = Math.sin(step);
    let cos = 1;
    let sin = 0;
    // Sums of products, one variable each: this loop is most of what a search costs.
    let x = 0;
    let xx = 0;
    let c = 0;
    let cx = 0;
    let cc = 0;
    let s = 0;
    let sx = 0;
    let sc = 0;
    let ss = 0;
    let y1 = 0;
    let yx = 0;
    let yc = 0;
    let ys = 0;
    let yy = 0;
    for (let i = 0, at = first % this.capacity; i < n; i += 1) {
      const value = this.#values[at] ?? NaN;
      at = at + 1 === this.capacity ? 0 : at + 1;
      if (!Number.isNaN(value)) {
        if (Number.isNaN(offset)) offset = value;
        const y = value - offset;
        const time = i / n - 0.5;
        x += time;
        xx += time * time;
        c += cos;
        cx += cos * time;
        cc += cos * cos;
        s += sin;
        sx += sin * time;
        sc += sin * cos;
        ss += sin * sin;
        y1 += y;
        yx += y * time;
        yc += y * cos;
        ys += y * sin;
        yy += y * y;
        used += 1;
      }
      const turned = cos * turnCos - sin * turnSin;
      sin = sin * turnCos + cos * turnSin;
      cos = turned;
    }
    if (used < 8 || used < 0.8 * n) return null;
    m[0] = used;
    m[4] = x;
    m[5] = xx;
    m[8] = c;
    m[9] = cx;
    m[10] = cc;
    m[12] = s;
    m[13] = sx;
    m[14] = sc;
    m[15] = ss;
    r[0] = y1;
    r[1] = yx;
    r[2] = yc;
    r[3] = ys;
    return reduce(m, r, yy);
  }
}

/** Cholesky with the right side carried along; after two columns the rest is that of the line. */
function reduce(a: Float64Array, b: Float64Array, total: number): Solution {
  let rest = total;
  let line = 0;
  for (let j = 0; j < TERMS; j += 1) {
    const diagonal = a[j * TERMS + j] ?? 0;
    let d = diagonal;
    for (let k = 0; k < j; k += 1) d -= (a[j * TERMS + k] ?? 0) ** 2;
    d = Math.sqrt(Math.max(d, 1e-9 * diagonal + 1e-12));
    a[j * TERMS + j] = d;
    for (let i = j + 1; i < TERMS; i += 1) {
      let s = a[i * TERMS + j] ?? 0;
      for (let k = 0; k < j; k += 1) s -= (a[i * TERMS + k] ?? 0) * (a[j * TERMS + k] ?? 0);
      a[i * TERMS + j] = s / d;
    }
    let z = b[j] ?? 0;
    for (let k = 0; k < j; k += 1) z -= (a[j * TERMS + k] ?? 0) * (b[k] ?? 0);
    z /= d;
    b[j] = z;
    rest -= z * z;
    if (j === 1) line = Math.max(0, rest);
  }
  const sine = (b[3] ?? 0) / (a[15] ?? 1);
  const cosine = ((b[2] ?? 0) - (a[14] ?? 0) * sine) / (a[10] ?? 1);
  return { amplitude: Math.hypot(cosine, sine), line, rest: Math.max(0, rest) };
}
