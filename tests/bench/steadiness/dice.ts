/** Repeatable random numbers for the bench: one seed gives one session, on every machine. */
export interface Dice {
  /** Uniform in [0, 1). */
  uniform(): number;
  /** Uniform in [a, b). */
  between(a: number, b: number): number;
  /** Uniform in the logarithm between two positive numbers. */
  log(a: number, b: number): number;
  /** Standard normal. */
  normal(): number;
  chance(p: number): boolean;
  pick<T>(items: readonly T[]): T;
}

/** The generator of Blackman & Vigna's splitmix64 family in 32 bits (mulberry32). */
export function createDice(seed: number): Dice {
  let state = (seed * 2654435761 + 0x9e3779b9) >>> 0;
  const uniform = (): number => {
    state = (state + 0x6d2b79f5) >>> 0;
    let z = state;
    z = Math.imul(z ^ (z >>> 15), z | 1);
    z ^= z + Math.imul(z ^ (z >>> 7), z | 61);
    return ((z ^ (z >>> 14)) >>> 0) / 4294967296;
  };
  return {
    uniform,
    between: (a, b) => a + (b - a) * uniform(),
    log: (a, b) => a * (b / a) ** uniform(),
    normal: () => Math.sqrt(-2 * Math.log(1 - uniform())) * Math.cos(2 * Math.PI * uniform()),
    chance: (p) => uniform() < p,
    pick(items) {
      const item = items[Math.floor(uniform() * items.length)];
      if (item === undefined) throw new Error('nothing to pick from');
      return item;
    },
  };
}
