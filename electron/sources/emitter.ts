import type { Unsubscribe } from './source.ts';

/** Listeners of one kind of news. */
export interface Emitter<T> {
  on(fn: (news: T) => void): Unsubscribe;
  emit(news: T): void;
  readonly size: number;
}

/** A set of listeners; one that leaves while news is given out is not called again. */
export function createEmitter<T>(): Emitter<T> {
  const listeners = new Set<{ readonly fn: (news: T) => void }>();
  return {
    on(fn) {
      const entry = { fn };
      listeners.add(entry);
      return () => listeners.delete(entry);
    },
    emit(news) {
      for (const entry of [...listeners]) {
        if (listeners.has(entry)) entry.fn(news);
      }
    },
    get size() {
      return listeners.size;
    },
  };
}
