/**
 * The dice of the plant: xoshiro128** 1.1 (Blackman and Vigna 2018, public domain), its four words
 * of state filled by splitmix32 steps from one seed. Written out from the published description;
 * the reference outputs for the state {1, 2, 3, 4} are in the test.
 *
 * Only 32-bit integer arithmetic and one multiplication by 2^-32, so the same seed gives the same
 * numbers on every machine.
 */
export class Random {
  private a: number;
  private b: number;
  private c: number;
  private d: number;
  private spare: number | null = null;

  private constructor(a: number, b: number, c: number, d: number) {
    this.a = a;
    this.b = b;
    this.c = c;
    this.d = d;
  }

  /** A generator from the four state words themselves (not all zero). */
  static fromState(a: number, b: number, c: number, d: number): Random {
    return new Random(a | 0, b | 0, c | 0, d | 0);
  }

  /**
   * A generator from a seed and a name. Different names give independent streams, so that adding a
   * sensor to a scenario does not change what the others read.
   */
  static named(seed: number, name: string): Random {
    let h = seed >>> 0;
    for (let i = 0; i < name.length; i += 1) {
      h = splitmix32(h ^ Math.imul(name.charCodeAt(i) + 1, 0x9e3779b1));
    }
    const words = [0, 0, 0, 0].map(() => {
      h = (h + 0x9e3779b9) >>> 0;
      return splitmix32(h);
    });
    return new Random(words[0] ?? 1, words[1] ?? 2, words[2] ?? 3, words[3] ?? 4);
  }

  /** The next 32 random bits as an unsigned integer. */
  nextUint32(): number {
    const m = Math.imul(this.b, 5);
    const result = Math.imul((m << 7) | (m >>> 25), 9) >>> 0;
    const t = this.b << 9;
    this.c ^= this.a;
    this.d ^= this.b;
    this.b ^= this.c;
    this.a ^= this.d;
    this.c ^= t;
    this.d = (this.d << 11) | (this.d >>> 21);
    return result;
  }

  /** Uniform in [0, 1). */
  uniform(): number {
    return this.nextUint32() * 2.3283064365386963e-10;
  }

  /** Standard normal, by the polar method of Marsaglia (1964): mean 0, standard deviation 1. */
  normal(): number {
    if (this.spare !== null) {
      const kept = this.spare;
      this.spare = null;
      return kept;
    }
    for (;;) {
      const u = 2 * this.uniform() - 1;
      const v = 2 * this.uniform() - 1;
      const s = u * u + v * v;
      if (s > 0 && s < 1) {
        const k = Math.sqrt((-2 * Math.log(s)) / s);
        this.spare = v * k;
        return u * k;
      }
    }
  }

  /** Exponential with the given mean. */
  exponential(mean: number): number {
    return -mean * Math.log(1 - this.uniform());
  }
}

/** One output step of splitmix32 (the 32-bit finaliser of MurmurHash3, Appleby, public domain). */
function splitmix32(x: number): number {
  let z = x | 0;
  z = Math.imul(z ^ (z >>> 16), 0x85ebca6b);
  z = Math.imul(z ^ (z >>> 13), 0xc2b2ae35);
  return (z ^ (z >>> 16)) >>> 0;
}
