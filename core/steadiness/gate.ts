/**
 * Keeps single wild values out of the averages: a value far from both its neighbours, while these
 * agree, is dropped. It costs one frame of delay. A real step passes, since its next value agrees.
 */
export interface Gate {
  /** Takes the next value (NaN = absent); gives the value before it, or NaN if that was wild. */
  push(value: number): number;
  clear(): void;
}

/** A neighbourly jump larger than this many usual jumps is suspicious. */
const WILD = 8;

/** @param floor smallest usual jump assumed, K */
export function createGate(floor: number): Gate {
  return new OneGate(floor);
}

class OneGate implements Gate {
  readonly #floor: number;
  #before = NaN;
  #held = NaN;
  #usual = NaN;

  constructor(floor: number) {
    this.#floor = floor;
  }

  push(value: number): number {
    const before = this.#before;
    const held = this.#held;
    const there = held - before;
    const back = held - value;
    const usual = Math.max(this.#usual, this.#floor);
    const wild =
      there * back > 0 &&
      Math.min(Math.abs(there), Math.abs(back)) > WILD * usual &&
      Math.abs(value - before) < 0.5 * Math.abs(there);
    const jump = Math.abs(value - held);
    if (Number.isNaN(this.#usual)) this.#usual = jump;
    else if (!Number.isNaN(jump)) this.#usual += (Math.min(jump, 4 * usual) - this.#usual) / 30;
    if (!wild) this.#before = held;
    this.#held = value;
    return wild ? NaN : held;
  }

  clear(): void {
    this.#before = NaN;
    this.#held = NaN;
  }
}
