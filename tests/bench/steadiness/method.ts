import type { Frame } from '../../../core/steadiness/types.ts';

/** What a method says after a frame. */
export interface Verdict {
  /** It calls the stream at rest (a named, still swing counts as rest about its mean). */
  readonly still: boolean;
  /** When it declared the average it stands by, s; null for methods that declare once a stillness. */
  readonly declaredAt: number | null;
  readonly disturbed: boolean;
  /** Averages it declares, by quantity, K. */
  readonly declared: readonly number[];
  /** 95 % half-widths of where the mean of the coming minutes lies, about `expected`; or null. */
  readonly expected: readonly number[] | null;
  readonly halfWidths: readonly number[] | null;
  /** Forecast of the time until settled with a 90 % interval, s; or null. */
  readonly timeLeft: {
    readonly seconds: number;
    readonly from: number;
    readonly to: number;
  } | null;
}

/** A steadiness method under test: made anew for every session. */
export interface Method {
  push(frame: Frame): Verdict;
}

/** The floor of run time all methods share, so that only the evidence is compared. */
export class RunClock {
  #from = NaN;

  /** Seconds the unit has run, or NaN when it does not; `fresh` at a start. */
  push(frame: Frame): { readonly run: number; readonly fresh: boolean } {
    if (frame.running === false) {
      this.#from = NaN;
      return { run: NaN, fresh: false };
    }
    const fresh = Number.isNaN(this.#from);
    if (fresh) this.#from = frame.t - frame.dt;
    return { run: frame.t - this.#from, fresh };
  }
}
