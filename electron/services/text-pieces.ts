/** Texts that may come in at once; the one begun longest ago is given up for a new one. */
const MAX_AT_ONCE = 2;

/** Texts that come in pieces, kept until they are whole. */
export class TextPieces {
  readonly #pieces = new Map<string, string[]>();
  readonly #most: number;

  /** @param most the most characters of one text */
  constructor(most: number) {
    this.#most = most;
  }

  /**
   * Adds a piece. Where it is too much, or one before it is missing, the text is given up.
   *
   * @param place of the piece in its text, from 0
   */
  add(upload: string, place: number, piece: string): 'added' | 'tooMuch' | 'incomplete' {
    const pieces = this.#pieces.get(upload) ?? [];
    const tooMuch = pieces.reduce((sum, p) => sum + p.length, piece.length) > this.#most;
    if (tooMuch || place !== pieces.length) {
      this.#pieces.delete(upload);
      return tooMuch ? 'tooMuch' : 'incomplete';
    }
    pieces.push(piece);
    this.#pieces.set(upload, pieces);
    const [oldest] = this.#pieces.keys();
    if (this.#pieces.size > MAX_AT_ONCE && oldest !== undefined) this.#pieces.delete(oldest);
    return 'added';
  }

  /** What has come, and forgets it. */
  take(upload: string): string {
    const text = (this.#pieces.get(upload) ?? []).join('');
    this.#pieces.delete(upload);
    return text;
  }
}
