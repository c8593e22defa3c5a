import type { Clock } from '../clock.ts';
import type { Unsubscribe } from '../sources/source.ts';

/** Texts that may come in at once; the one begun longest ago is given up for a new one. */
const MAX_AT_ONCE = 2;
/** The pieces of a text follow one another within moments: one that waits this long was given up, ms. */
const GIVEN_UP_MS = 60_000;

interface Coming {
  readonly pieces: string[];
  length: number;
  /** When its latest piece came, ms. */
  at: number;
}

/**
 * Texts that come in pieces, kept until they are whole. A window that chose another file, or was closed,
 * does not say so: what it began is forgotten after a minute.
 */
export class TextPieces {
  readonly #coming = new Map<string, Coming>();
  readonly #most: number;
  readonly #clock: Clock;
  #stop: Unsubscribe | null = null;

  /** @param most the most characters of one text */
  constructor(most: number, clock: Clock) {
    this.#most = most;
    this.#clock = clock;
  }

  /**
   * Adds a piece. Where it is too much, or one before it is missing, the text is given up.
   *
   * @param place of the piece in its text, from 0
   */
  add(upload: string, place: number, piece: string): 'added' | 'tooMuch' | 'incomplete' {
    const text = this.#coming.get(upload) ?? { pieces: [], length: 0, at: 0 };
    const tooMuch = text.length + piece.length > this.#most;
    if (tooMuch || place !== text.pieces.length) {
      this.#forget(upload);
      return tooMuch ? 'tooMuch' : 'incomplete';
    }
    text.pieces.push(piece);
    text.length += piece.length;
    text.at = this.#clock.now();
    this.#coming.set(upload, text);
    const [oldest] = this.#coming.keys();
    if (this.#coming.size > MAX_AT_ONCE && oldest !== undefined) this.#forget(oldest);
    this.#stop ??= this.#clock.every(GIVEN_UP_MS / 2, () => this.#forgetOld());
    return 'added';
  }

  /** What has come, and forgets it. */
  take(upload: string): string {
    const text = (this.#coming.get(upload)?.pieces ?? []).join('');
    this.#forget(upload);
    return text;
  }

  #forgetOld(): void {
    const now = this.#clock.now();
    for (const [upload, { at }] of this.#coming) {
      if (now - at >= GIVEN_UP_MS) this.#forget(upload);
    }
  }

  #forget(upload: string): void {
    this.#coming.delete(upload);
    if (this.#coming.size > 0) return;
    this.#stop?.();
    this.#stop = null;
  }
}
