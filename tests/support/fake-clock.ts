import type { Clock } from '../../electron/clock.ts';

/** A clock that stands until it is moved. */
export class FakeClock implements Clock {
  #now: number;
  readonly #timers = new Set<{ ms: number; next: number; fn: () => void }>();

  constructor(start = Date.parse('2026-06-01T12:00:00.000Z')) {
    this.#now = start;
  }

  now(): number {
    return this.#now;
  }

  every(ms: number, fn: () => void): () => void {
    const timer = { ms, next: this.#now + ms, fn };
    this.#timers.add(timer);
    return () => this.#timers.delete(timer);
  }

  /** Lets time pass; timers go off at their times. */
  advance(ms: number): void {
    const end = this.#now + ms;
    for (;;) {
      const due = [...this.#timers].sort((a, b) => a.next - b.next)[0];
      if (due === undefined || due.next > end) break;
      this.#now = due.next;
      due.next += due.ms;
      due.fn();
    }
    this.#now = end;
  }

  /** The clock is set to another time, or the machine sleeps: no timer goes off meanwhile. */
  jump(ms: number): void {
    this.#now += ms;
    for (const timer of this.#timers) timer.next = this.#now + timer.ms;
  }

  /** Timers that are still going. */
  get running(): number {
    return this.#timers.size;
  }
}
