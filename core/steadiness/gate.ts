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
  let before = NaN;
  let held = NaN;
  let usual = NaN;
  return {
    push(value) {
      const there = held - before;
      const back = held - value;
      const wild =
        there * back > 0 &&
        Math.min(Math.abs(there), Math.abs(back)) > WILD * Math.max(usual, floor) &&
        Math.abs(value - before) < 0.5 * Math.abs(there);
      const out = wild ? NaN : held;
      const jump = Math.abs(value - held);
      if (Number.isNaN(usual)) usual = jump;
      else if (!Number.isNaN(jump)) {
        usual += (Math.min(jump, 4 * Math.max(usual, floor)) - usual) / 30;
      }
      if (!wild) before = held;
      held = value;
      return out;
    },
    clear() {
      before = NaN;
      held = NaN;
    },
  };
}
