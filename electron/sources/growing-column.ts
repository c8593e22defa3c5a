/** Rows for which room is made at first. */
const FIRST = 1024;

/** A column of numbers of which it is not known yet how long it will be: eight bytes each. */
export class GrowingColumn {
  #room = new Float64Array(FIRST);
  #length = 0;

  /** Adds a number at the end. */
  push(value: number): void {
    if (this.#length === this.#room.length) {
      const larger = new Float64Array(2 * this.#length);
      larger.set(this.#room);
      this.#room = larger;
    }
    this.#room[this.#length] = value;
    this.#length += 1;
  }

  get length(): number {
    return this.#length;
  }

  /** What was added so far; a view, not a copy. */
  numbers(): Float64Array {
    return this.#room.subarray(0, this.#length);
  }
}
