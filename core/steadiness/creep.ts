/**
 * Means that creep: one that has left its declared average twice running the same way goes somewhere,
 * and no average declared in its place would last any longer, until it slows down.
 */

/** Departures further apart than this have nothing to do with each other, s. */
const SOON_S = 600;

/** What is known of the departures of every quantity. */
export class Creep {
  readonly #way: Float64Array;
  readonly #at: Float64Array;
  readonly #creeping: Uint8Array;

  constructor(quantities: number) {
    this.#way = new Float64Array(quantities);
    this.#at = new Float64Array(quantities).fill(-Infinity);
    this.#creeping = new Uint8Array(quantities);
  }

  /** Takes it down that a mean has left its declared average by so much, K, at a time, s. */
  left(q: number, change: number, now: number): void {
    const way = Math.sign(change);
    const again = this.#way[q] === way && now - (this.#at[q] ?? -Infinity) <= SOON_S;
    this.#creeping[q] = again ? 1 : 0;
    this.#way[q] = way;
    this.#at[q] = now;
  }

  /**
   * Whether a mean still creeps.
   * @param recent its latest movement, K
   * @param slow a movement that would take it no further than is allowed, K
   */
  goesOn(q: number, recent: number, slow: number): boolean {
    if (this.#creeping[q] !== 1) return false;
    if (!(recent * (this.#way[q] ?? 0) >= slow)) this.#creeping[q] = 0;
    return this.#creeping[q] === 1;
  }

  /** Forgets all: what comes now is another movement. */
  clear(): void {
    this.#at.fill(-Infinity);
    this.#creeping.fill(0);
  }
}
