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

  /** Adds a piece; false where it is too much, and the text is given up. */
  add(upload: string, piece: string): boolean {
    const pieces = this.#pieces.get(upload) ?? [];
    if (pieces.reduce((sum, p) => sum + p.length, piece.length) > this.#most) {
      this.#pieces.delete(upload);
      return false;
    }
    pieces.push(piece);
    this.#pieces.set(upload, pieces);
    const [oldest] = this.#pieces.keys();
    if (this.#pieces.size > MAX_AT_ONCE && oldest !== undefined) this.#pieces.delete(oldest);
    return true;
  }

  /** What has come, and forgets it. */
  take(upload: string): string {
    const text = (this.#pieces.get(upload) ?? []).join('');
    this.#pieces.delete(upload);
    return text;
  }
}
