/** What the truth of a session says about rest: episodes, their true settling, later means. */
import { QUANTITIES, type Truth } from './session.ts';

/** Time over which a declared average must hold, s. */
export const HORIZON_S = 300;
/** Window of the true average just past, s. */
const PAST_S = 60;
/** Tolerances of true settling, K: the engine's defaults. */
export const TOLERANCES = [5 / 9, 5 / 9, 5 / 9, 5 / 9, 7.5 / 9] as const;

/** A stretch of running without an event. */
export interface Episode {
  readonly from: number;
  readonly to: number;
  /** When the compressor started that runs in it. */
  readonly runFrom: number;
  /** Begins with an event rather than a start. */
  readonly afterEvent: boolean;
  /**
   * The earliest time from which on, to the end of the episode, the mean of the coming five
   * minutes of every quantity lies within its tolerance of the mean of the past minute (whole
   * periods where it swings). Null where that never comes.
   */
  readonly settled: number | null;
}

/** Running sums over the true series, for means over any stretch. */
export class TrueMeans {
  readonly #sums: readonly Float64Array[];
  readonly #truth: Truth;

  constructor(truth: Truth) {
    this.#truth = truth;
    this.#sums = truth.series.map((series) => {
      const sums = new Float64Array(series.length + 1);
      for (let i = 0; i < series.length; i += 1) {
        const y = series[i] ?? 0;
        sums[i + 1] = (sums[i] ?? 0) + (Number.isNaN(y) ? 0 : y);
      }
      return sums;
    });
  }

  /** Mean of a quantity over [from, to), s, to whole seconds. */
  mean(q: number, from: number, to: number): number {
    const sums = this.#sums[q];
    const a = Math.max(0, Math.round(from));
    const b = Math.min(this.#truth.length, Math.max(a + 1, Math.round(to)));
    return ((sums?.[b] ?? 0) - (sums?.[a] ?? 0)) / (b - a);
  }

  /** The coming stretch a declared average is held against: five minutes, in whole periods. */
  ahead(): number {
    const p = this.#truth.period;
    return p > 0 ? Math.max(1, Math.round(HORIZON_S / p)) * p : HORIZON_S;
  }

  /** The stretch just past: a minute, in whole periods. */
  past(): number {
    const p = this.#truth.period;
    return p > 0 ? Math.max(1, Math.round(PAST_S / p)) * p : PAST_S;
  }
}

/** The episodes of a session that last long enough to be judged. */
export function episodesOf(truth: Truth, means: TrueMeans): Episode[] {
  const episodes: Episode[] = [];
  for (const run of truth.runs) {
    const end = Math.min(run.to, truth.length);
    const inside = truth.events.filter((e) => e.at > run.from && e.at < end).map((e) => e.at);
    const edges = [run.from, ...inside, end];
    for (let i = 0; i + 1 < edges.length; i += 1) {
      const from = edges[i] ?? 0;
      const to = edges[i + 1] ?? 0;
      const settled = trueSettling(truth, means, from, to);
      episodes.push({ from, to, runFrom: run.from, afterEvent: i > 0, settled });
    }
  }
  return episodes;
}

function trueSettling(truth: Truth, means: TrueMeans, from: number, to: number): number | null {
  const ahead = means.ahead();
  const past = means.past();
  let settled: number | null = null;
  for (let t = Math.floor(to - ahead); t >= Math.max(from + past, past); t -= 1) {
    const still = QUANTITIES.every((_, q) => {
      const change = means.mean(q, t, t + ahead) - means.mean(q, t - past, t);
      return Number.isNaN(truth.series[q]?.[t] ?? NaN) || Math.abs(change) <= (TOLERANCES[q] ?? 1);
    });
    if (!still) break;
    settled = t;
  }
  return settled;
}
