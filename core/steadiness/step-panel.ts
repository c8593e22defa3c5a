import type { Event } from './machine.ts';
import { COUNTED_FROM } from './quantities.ts';
import { LOOKS, StepWatch, type Look, type Stretches } from './step.ts';
import type { QuantityKey, QuantitySpec } from './types.ts';

/** What is compared, and what of it is called a step. */
export interface StepRule {
  readonly stretches: Stretches;
  /** A quantity that comes more seldom than this, s, cannot tell of such a step. */
  readonly slowest: number;
  /** What is looked at while it is still; before that it is the stretch alone. */
  readonly looks: readonly Look[];
  /** Standard deviations at which one quantity alone speaks of a step... */
  readonly alone: number;
  /** ... and the sum of their squares over the sides of the circuit at which these do together. */
  readonly together: number;
  /** From this sum on a step is beyond doubt. */
  readonly sure: number;
  /** From so many standard deviations of one quantity on a step may be under way. */
  readonly suspect: number;
  /**
   * A step smaller than this share of the tolerance is not worth a word; and one that is beyond
   * doubt, or ends a stillness: it will go on.
   */
  readonly least: number;
  readonly leastSure: number;
}

/** A step within seconds. */
export const SUDDEN: StepRule = {
  stretches: { fresh: 5, guard: 6, base: 40, memory: 150, learnt: 20 },
  slowest: 90,
  looks: [LOOKS.stretch, LOOKS.three, LOOKS.newest],
  alone: 5,
  together: 30,
  sure: 60,
  suspect: 3,
  least: 1.3,
  leastSure: 0.8,
};

/** A change within a minute: a door, a fan that runs down, refrigerant added. */
export const GRADUAL: StepRule = {
  stretches: { fresh: 15, guard: 30, base: 120, memory: 600, learnt: 60 },
  slowest: 20,
  looks: [LOOKS.stretch],
  alone: 4,
  together: 24,
  sure: 60,
  suspect: 3,
  least: 1.2,
  leastSure: 1.2,
};

/** No side of the circuit counts for more standard deviations than this in the sum of all... */
const MOST = 12;
/** ... and where it may be one reading, for no more than this share of what is asked for. */
const SHARE_OF_ONE = 0.65;
/** So many tolerances are far from what is still. */
const FAR = 3;
/** A saturation that moves by less than this share of what is counted from it did not move that. */
const MOVED = 0.5;
/** Looks at several values: one alone stands off by chance too often to be suspicious. */
const SEVERAL: readonly Look[] = [LOOKS.three, LOOKS.stretch];
/** What is looked at before it is still. */
const UNSTILL: readonly Look[] = [LOOKS.stretch];

/** What a panel asks of the rooms beside it. */
export interface Beside {
  /** Whether it is called still: then less is asked. */
  still(): boolean;
  /** The step of the last digit of a quantity where it is quantised, else 0, K. */
  flip(q: number): number;
  /** Standard deviation of the noise of one value of a quantity, K. */
  noise(q: number): number;
  /** Whether a quantity moves so by itself. */
  swingsSo(key: QuantityKey, size: number): boolean;
}

/** The step watches of all quantities: one alone may call, or several together. */
export interface StepPanel {
  /**
   * Takes a frame; tells of a step when one is seen.
   * @param news values of the quantities, NaN where there is nothing new
   * @param values of the quantities, new or held
   * @param pace seconds between the values of each quantity
   */
  push(
    t: number,
    news: ArrayLike<number>,
    values: ArrayLike<number>,
    pace: ArrayLike<number>,
  ): Event | null;
  /** Whether a step may be under way that cannot be told from noise yet. */
  suspects(): boolean;
  /** Forgets the values, keeps the yardsticks. */
  cut(): void;
  /** Forgets the yardsticks too: what was usual at rest is not so while it runs. */
  forget(): void;
}

/** @param specs the quantities, in the order of the frames' values */
export function createStepPanel(
  specs: readonly QuantitySpec[],
  rule: StepRule,
  beside: Beside,
): StepPanel {
  return new Panel(specs, rule, beside);
}

class Panel implements StepPanel {
  readonly #specs: readonly QuantitySpec[];
  readonly #rule: StepRule;
  readonly #beside: Beside;
  readonly #watches: readonly StepWatch[];
  /** Index of the saturation each quantity is counted from, -1 with none; and how it adds up. */
  readonly #saturation: readonly number[];
  readonly #sign: readonly number[];
  /** Which side of the circuit each is of: what has a sensor in common is no second witness. */
  readonly #side: readonly number[];
  readonly #mostOfOne: number;
  readonly #sides: number;
  readonly #squares: Float64Array;

  constructor(specs: readonly QuantitySpec[], rule: StepRule, beside: Beside) {
    this.#beside = beside;
    this.#specs = specs;
    this.#rule = rule;
    this.#watches = specs.map((spec) => new StepWatch(0.06 * spec.tolerance, rule.stretches));
    const from = specs.map((spec) => COUNTED_FROM[spec.key]);
    this.#saturation = from.map((one) => specs.findIndex((spec) => spec.key === one?.saturation));
    this.#sign = from.map((one) => one?.sign ?? 1);
    this.#side = this.#saturation.map((saturation, q) => (saturation < 0 ? q : saturation));
    this.#mostOfOne = Math.sqrt(SHARE_OF_ONE * rule.together);
    this.#sides = new Set(this.#side).size;
    this.#squares = new Float64Array(specs.length);
  }

  push(
    t: number,
    news: ArrayLike<number>,
    values: ArrayLike<number>,
    pace: ArrayLike<number>,
  ): Event | null {
    for (let q = 0; q < this.#watches.length; q += 1) {
      const every = pace[q] ?? 1;
      if (every > this.#rule.slowest) continue;
      const value = news[q] ?? NaN;
      const saturation = this.#saturation[q] ?? -1;
      const line = saturation < 0 ? 0 : (values[saturation] ?? NaN);
      const reading = line + (this.#sign[q] ?? 1) * value;
      this.#watches[q]?.push(t, every, value, this.#beside.flip(q), reading);
    }
    if (this.#isQuiet()) return null;
    const still = this.#beside.still();
    for (const look of still ? this.#rule.looks : UNSTILL) {
      const event = this.#judge(t, look, still);
      if (event !== null && !this.#beside.swingsSo(event.quantity, event.size)) return event;
    }
    return null;
  }

  suspects(): boolean {
    return this.#watches.some((watch) =>
      SEVERAL.some((look) => Math.abs(watch.surprise(look)) >= this.#rule.suspect),
    );
  }

  cut(): void {
    for (const watch of this.#watches) watch.cut();
  }

  forget(): void {
    for (const watch of this.#watches) watch.forget();
  }

  /** Whether no quantity moves so much that any look could tell of a step. */
  #isQuiet(): boolean {
    // Below its share in what all sides together are asked for none can be one of them.
    const loud = Math.sqrt(this.#rule.together / this.#sides);
    for (let q = 0; q < this.#watches.length; q += 1) {
      const watch = this.#watches[q];
      if (watch === undefined) continue;
      if (watch.loudest() >= loud) return false;
      if (watch.furthest() > FAR * (this.#specs[q]?.tolerance ?? 1)) return false;
    }
    return true;
  }

  /** Whether a look tells of a step. */
  #judge(t: number, look: Look, still: boolean): Event | null {
    const { alone, together, sure, least, leastSure } = this.#rule;
    let most = 0;
    let sum = 0;
    this.#squares.fill(0);
    for (let q = 0; q < this.#watches.length; q += 1) {
      const surprise = this.#watches[q]?.surprise(look) ?? 0;
      const magnitude = Math.abs(surprise);
      const one = this.#isOne(q, look);
      if (!one) most = Math.max(most, still && this.#isFar(q, look) ? alone : 0, magnitude);
      const counted = Math.min(magnitude, one ? this.#mostOfOne : MOST);
      // What has a sensor in common is no second witness: the better one of a side counts.
      const side = this.#side[q] ?? q;
      const before = this.#squares[side] ?? 0;
      const square = Math.max(before, counted * counted);
      this.#squares[side] = square;
      sum += square - before;
    }
    if (most < alone && sum < together) return null;
    return this.#furthest(t, look, still || sum >= sure ? leastSure : least);
  }

  /**
   * Whether a quantity went as far as no stillness goes, beyond its noise: whatever it did before it
   * was still. Its yardstick may yet hold the errors of a start.
   */
  #isFar(q: number, look: Look): boolean {
    const size = Math.abs(this.#watches[q]?.size(look) ?? 0);
    return (
      size > FAR * (this.#specs[q]?.tolerance ?? 1) &&
      size > this.#rule.alone * this.#beside.noise(q)
    );
  }

  /** Whether what a look saw of a quantity may all be one reading, also of its saturation. */
  #isOne(q: number, look: Look): boolean {
    const watch = this.#watches[q];
    if (watch === undefined) return true;
    const other = this.#watches[this.#saturation[q] ?? -1];
    const moved =
      other !== undefined && Math.abs(other.size(look)) > MOVED * Math.abs(watch.size(look));
    return watch.isOne(look, moved ? Math.max(watch.run(), other.run()) : watch.run());
  }

  /** The step of the quantity that went furthest for its tolerance; null where none did so far. */
  #furthest(t: number, look: Look, least: number): Event | null {
    let event: Event | null = null;
    let furthest = least;
    for (let q = 0; q < this.#watches.length; q += 1) {
      const watch = this.#watches[q];
      const spec = this.#specs[q];
      if (watch === undefined || spec === undefined) continue;
      const size = watch.size(look);
      const far = Math.abs(size) / spec.tolerance;
      if (far <= furthest) continue;
      furthest = far;
      event = { quantity: spec.key, size, at: t, within: watch.within() };
    }
    return event;
  }
}
