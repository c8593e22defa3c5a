import type { Series } from '../../core/stream/decimate.ts';

/** Points kept of one line: 1 MB. A day at four a second then keeps extremes of every 4 s. */
export const LINE_CAPACITY = 65_536;
const FIRST_CAPACITY = 1024;

/**
 * One line of a trend in bounded memory. Every point is kept until the capacity is reached; from
 * then on time is divided into slots and of each slot only the smallest and largest value (with
 * their own times) and a break at its end are kept; whenever that is too much again, the slots
 * double. So the line always covers the whole session and no peak is ever lost.
 */
export class TrendSeries {
  readonly #capacity: number;
  #times = new Float64Array(FIRST_CAPACITY);
  #values = new Float64Array(FIRST_CAPACITY);
  #length = 0;
  /** Width of a slot, s; 0 while every point is kept. */
  #slot = 0;

  constructor(capacity: number = LINE_CAPACITY) {
    this.#capacity = capacity;
  }

  get length(): number {
    return this.#length;
  }

  /** Adds a point, NaN for a break; one that came late is put in its place. */
  push(t: number, value: number): void {
    const last = this.#length - 1;
    const afterBreak = last >= 0 && Number.isNaN(this.#values[last] ?? NaN);
    if (Number.isNaN(value) && (last < 0 || afterBreak)) return;
    if (this.#length === this.#times.length) this.#makeRoom();
    const at = this.#place(t);
    this.#times.copyWithin(at + 1, at, this.#length);
    this.#values.copyWithin(at + 1, at, this.#length);
    this.#times[at] = t;
    this.#values[at] = value;
    this.#length += 1;
    if (this.#slot > 0) this.#compact(this.#slotStart(t));
  }

  clear(): void {
    this.#length = 0;
    this.#slot = 0;
  }

  /** The points from the last one before `from` to the first one after `to`. */
  between(from: number, to: number): Series {
    const start = Math.max(0, this.#lowerBound(from) - 1);
    const end = Math.min(this.#length, this.#upperBound(to) + 1);
    return {
      length: Math.max(0, end - start),
      time: (i) => this.#times[start + i] ?? NaN,
      value: (i) => this.#values[start + i] ?? NaN,
    };
  }

  /** Where a point of time t belongs: behind all that are not later. */
  #place(t: number): number {
    const last = this.#times[this.#length - 1];
    return this.#length === 0 || last === undefined || last <= t
      ? this.#length
      : this.#upperBound(t);
  }

  #lowerBound(t: number): number {
    return this.#search((time) => time < t);
  }

  #upperBound(t: number): number {
    return this.#search((time) => time <= t);
  }

  /** The number of points at the start for which `isBefore` holds. */
  #search(isBefore: (time: number) => boolean): number {
    let low = 0;
    let high = this.#length;
    while (low < high) {
      const middle = (low + high) >>> 1;
      if (isBefore(this.#times[middle] ?? NaN)) low = middle + 1;
      else high = middle;
    }
    return low;
  }

  #makeRoom(): void {
    if (this.#times.length < this.#capacity) {
      const size = Math.min(this.#capacity, 2 * this.#times.length);
      this.#times = grown(this.#times, size);
      this.#values = grown(this.#values, size);
      return;
    }
    const span = (this.#times[this.#length - 1] ?? 0) - (this.#times[0] ?? 0);
    // Two values and a break a slot: a quarter of the capacity in slots leaves room to go on.
    const least = span / (this.#capacity / 4);
    this.#slot = Math.max(2 * this.#slot, least, Number.MIN_VALUE);
    this.#compact(0);
  }

  #slotOf(i: number): number {
    return Math.floor((this.#times[i] ?? NaN) / this.#slot);
  }

  /** Index of the first point in the slot of time t. */
  #slotStart(t: number): number {
    return this.#lowerBound(Math.floor(t / this.#slot) * this.#slot);
  }

  /** Keeps of each slot from index `start` on the extremes and a break at its end. */
  #compact(start: number): void {
    let write = start;
    let read = start;
    while (read < this.#length) {
      let end = read + 1;
      while (end < this.#length && this.#slotOf(end) === this.#slotOf(read)) end += 1;
      write = this.#keepSlot(read, end, write);
      read = end;
    }
    this.#length = write;
  }

  #keepSlot(start: number, end: number, write: number): number {
    let low = -1;
    let high = -1;
    for (let i = start; i < end; i += 1) {
      const value = this.#values[i] ?? NaN;
      if (Number.isNaN(value)) continue;
      if (low < 0 || value < (this.#values[low] ?? NaN)) low = i;
      if (high < 0 || value > (this.#values[high] ?? NaN)) high = i;
    }
    const kept = new Set([Math.min(low, high), Math.max(low, high)].filter((i) => i >= 0));
    if (Number.isNaN(this.#values[end - 1] ?? NaN)) kept.add(end - 1);
    let to = write;
    for (const i of kept) {
      this.#times[to] = this.#times[i] ?? NaN;
      this.#values[to] = this.#values[i] ?? NaN;
      to += 1;
    }
    return to;
  }
}

function grown(from: Float64Array<ArrayBuffer>, size: number): Float64Array<ArrayBuffer> {
  const to = new Float64Array(size);
  to.set(from);
  return to;
}
