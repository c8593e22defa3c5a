/**
 * Why the mean of a stream is at rest, swings or is not at rest yet: what the judge knows, as the reason
 * of a state. `reason-text.ts` puts it into words.
 */
import type { Judge } from './judge.ts';
import { goesOn, LOOK_BACK_S } from './judgement.ts';
import type { Adrift, QuantitySpec, Reason } from './types.ts';

/** 95 % half-width in standard deviations. */
export const Z95 = 1.96;
/** A trend is told of from this share of the tolerance on, in the stretch looked back on. */
const TREND = 0.25;
/** ... and of any movement, also one that has turned, from this share on: nobody may be told that it rests. */
const MOVED = 0.5;

/** The reason that a mean has left its declared average. */
export type Departed = Extract<Reason, { code: 'departed' }>;

interface Parts {
  readonly specs: readonly QuantitySpec[];
  /** The coming time over which the mean must stay inside its tolerance, s. */
  readonly horizon: number;
  readonly judge: Judge;
  /** Confidence asked for before anything is called settled. */
  readonly asked: number;
}

/** Reads the reasons off a judge; temperatures in them are differences, K, and times s. */
export class Reasons {
  readonly #specs: readonly QuantitySpec[];
  readonly #horizon: number;
  readonly #judge: Judge;
  readonly #asked: number;

  constructor({ specs, horizon, judge, asked }: Parts) {
    this.#specs = specs;
    this.#horizon = horizon;
    this.#judge = judge;
    this.#asked = asked;
  }

  /**
   * Why it is not called still.
   * @param creeping index of the quantity that creeps; -1 with none
   * @param departure what ended the last stillness, until something better can be said
   */
  unstill(creeping: number, departure: Departed | null): Reason {
    const worst = this.#judge.worst();
    const judgement = this.#judge.judgements[worst];
    const spec = this.#specs[worst];
    if (judgement === undefined || spec === undefined) return { code: 'noData' };
    const { key: quantity, tolerance } = spec;
    if (judgement.present && !Number.isFinite(judgement.drift)) return { code: 'tooFew', quantity };
    const driftU = Z95 * judgement.driftSd;
    const drift = judgement.drift;
    const horizon = this.#horizon;
    if (creeping >= 0) return this.#goingOn(creeping);
    if (goesOn(judgement, spec)) return this.#goingOn(worst);
    if (Math.abs(drift) + driftU <= tolerance) {
      if (departure !== null) return departure;
      const confidence = this.#judge.confidence();
      const counted = this.#judge.counted();
      return { code: 'nearly', counted, confidence, asked: this.#asked, horizon };
    }
    // A drift that is less than its own doubt may go either way.
    if (Math.abs(drift) > driftU) return { code: 'drifting', quantity, drift, driftU, horizon };
    return { code: 'unsure', quantity, drift, driftU, tolerance, horizon };
  }

  #goingOn(q: number): Reason {
    const quantity = this.#specs[q]?.key ?? 'superheat';
    const change = this.#judge.judgements[q]?.recent ?? 0;
    return { code: 'goesOn', quantity, change, seconds: LOOK_BACK_S };
  }

  /**
   * The largest swing.
   * @param rests whether its mean is at rest
   */
  swinging(rests: boolean): Reason {
    const adrift = rests ? null : this.#adrift();
    let best: Reason = { code: 'noData' };
    let most = 0;
    this.#judge.judgements.forEach((j, q) => {
      const spec = this.#specs[q];
      if (spec === undefined || j.swing === null) return;
      if (j.swing.amplitude / spec.tolerance <= most) return;
      most = j.swing.amplitude / spec.tolerance;
      best = {
        code: 'swinging',
        quantity: spec.key,
        amplitude: j.swing.amplitude,
        period: j.swing.period,
        adrift,
      };
    });
    return best;
  }

  /** The mean that keeps a swing from being read. */
  #adrift(): Adrift {
    const worst = this.#judge.worst();
    const j = this.#judge.judgements[worst];
    const known = j !== undefined && Number.isFinite(j.drift);
    return {
      quantity: this.#specs[worst]?.key ?? 'superheat',
      drift: known ? j.drift : null,
      driftU: known ? Z95 * j.driftSd : null,
      horizon: this.#horizon,
    };
  }

  /** Why it is called still: the quantity that moves most, else the one least sure to stay. */
  still(): Reason {
    let q = Math.max(0, this.#judge.worst());
    let most = TREND;
    this.#judge.judgements.forEach((j, i) => {
      const share = Math.abs(j.recent) / (this.#specs[i]?.tolerance ?? 1);
      const told = share > MOVED || j.recent * j.before > 0;
      if (!j.present || !(share > most) || !told) return;
      most = share;
      q = i;
    });
    const judgement = this.#judge.judgements[q];
    const change = judgement?.recent ?? 0;
    return {
      code: 'still',
      counted: this.#judge.counted(),
      confidence: this.#judge.confidence(),
      horizon: this.#horizon,
      quantity: this.#specs[q]?.key ?? 'superheat',
      drift: judgement?.drift ?? 0,
      trend: most > TREND ? { change, seconds: LOOK_BACK_S } : null,
    };
  }
}
