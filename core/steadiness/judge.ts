/**
 * Judges the present: fits every quantity's approach, finds swings, chooses the window whose
 * average is worth declaring, and says how probable it is that the mean of the coming minutes
 * stays within tolerance of that average.
 */
import { createForecast, createWorkspace, fitApproach, type Forecast } from './approach.ts';
import { createBasis, layBasis } from './basis.ts';
import { meanOver, type Blocks } from './blocks.ts';
import { forecastTimeLeft } from './time-left.ts';
import { normalWithin } from './normal.ts';
import { CHECK_S, TrackRecord } from './track-record.ts';
import type { Noise } from './noise.ts';
import { Sway } from './sway.ts';
import {
  blankJudgement,
  forget,
  isDecisive,
  LOOK_BACK_S,
  STANDBY,
  standing,
  standingAtRest,
  type Judgement,
} from './judgement.ts';
import { createSwingFinder, type SwingFinder } from './swing.ts';
import type { QuantityKey, QuantitySpec, TimeLeft } from './types.ts';

/** Candidate windows of the declared average, s. */
const WINDOWS = [60, 120, 240, 480] as const;
/** A longer window is taken while its averages differ by no more than this, in tolerances. */
const WINDOW_SLACK = 0.12;
/** From so many tolerances on the mean of a swing is also judged by whole periods: less may be gusts. */
const SWINGS = 2;
/** A swing smaller than this share of the tolerance is left to the noise. */
const LEAST_SWING = 0.3;
/** An edge of a swing is at most its peak to peak, and a little for noise: amplitudes (halves of that). */
const OWN_EDGE = 2.2;
/** Seconds and blocks of the past needed before anything is judged. */
const LEAST_PAST_S = 75;
const LEAST_BLOCKS = 6;
/** The present level is the mean over this long, s. */
const LEVEL_S = 45;
/** ... and over so many values of a quantity that comes more slowly. */
const SLOW_VALUES = 2.2;
/** By how much the noise may be larger than the residuals of a fit without a swing say. */
const RESIDUAL_MARGIN = 1.5;
/** What no fit can know of the next minutes, as a share of the tolerance (standard deviation). */
const UNFORESEEN = 0.18;
/** From this probability on that it stays inside a quantity claims to rest where it is. */
const CLAIMS = 0.8;
/** Variance below which a claim is not checked more finely, tolerances². */
const LEAST_CLAIM = 4e-4;
/** Least prior excursion, in tolerances: how far off rest anything may still be. */
const EXCURSION_SEEN = 2;
const EXCURSION_UNSEEN = 6;

interface Parts {
  readonly specs: readonly QuantitySpec[];
  readonly horizon: number;
  readonly blocks: Blocks;
  readonly noise: readonly Noise[];
  /** Seconds between the values of each quantity. */
  readonly pace: Float64Array;
}

interface Window {
  readonly from: number;
  readonly to: number;
}

/** Creates the judge over a history of blocks. */
export function createJudge(parts: Parts): Judge {
  return new Judge(parts);
}

/** The judge: `block` and `evaluate` feed it, the rest asks it. */
export class Judge {
  readonly judgements: readonly Judgement[];
  readonly #specs: readonly QuantitySpec[];
  readonly #horizon: number;
  readonly #blocks: Blocks;
  readonly #noise: readonly Noise[];
  readonly #pace: Float64Array;
  readonly #forecasts: readonly Forecast[];
  readonly #finders: readonly SwingFinder[];
  readonly #basis = createBasis();
  readonly #work = createWorkspace();
  #window: Window | null = null;
  #ready = false;
  #turn = 0;
  #seenStart = false;
  #period = 0;
  /** What the quantities say together. */
  #confidence = 0;
  #worst = -1;
  readonly #record: TrackRecord;
  readonly #sway: Sway;
  /** Where each quantity claims to rest, as far as its forecast knows; NaN where it does not. */
  readonly #claims: Float64Array;
  readonly #density: Float64Array;

  constructor({ specs, horizon, blocks, noise, pace }: Parts) {
    this.#specs = specs;
    this.#horizon = horizon;
    this.#blocks = blocks;
    this.#noise = noise;
    this.#pace = pace;
    this.#record = new TrackRecord(specs.length);
    this.#density = new Float64Array(specs.length);
    this.#claims = new Float64Array(specs.length).fill(NaN);
    this.#sway = new Sway(
      specs.map((spec) => spec.tolerance),
      horizon,
    );
    this.#forecasts = specs.map(() => createForecast());
    this.#finders = specs.map(() => createSwingFinder());
    this.judgements = specs.map(() => blankJudgement());
    this.#sumUp();
  }

  /** Window of the declared average, s; null before there is one. */
  window(): Window | null {
    return this.#window;
  }

  /** Whether enough was seen since the last cut to judge at all. */
  ready(): boolean {
    return this.#ready;
  }

  /** Probability that every decisive quantity stays inside. */
  confidence(): number {
    return this.#confidence;
  }

  /** What the confidence speaks of. */
  counted(): QuantityKey[] {
    return this.#specs
      .filter((spec, q) => isDecisive(spec) && this.judgements[q]?.present === true)
      .map((spec) => spec.key);
  }

  /** Least probability among the quantities that only stand by. */
  standby(): number {
    let least = 1;
    this.#each((j, _, spec) => {
      if (j.present && !isDecisive(spec)) least = Math.min(least, standing(j, spec));
    });
    return least;
  }

  /** The same of what was called at rest, with the averages declared then. */
  stillStandby(declared: Float64Array): number {
    let least = 1;
    this.#each((j, _, spec, q) => {
      if (!j.present || isDecisive(spec)) return;
      least = Math.min(least, standingAtRest(j, spec, declared[q] ?? NaN));
    });
    return least;
  }

  /** Index of the quantity least likely to stay inside; -1 with none. */
  worst(): number {
    return this.#worst;
  }

  /** Seconds until still, with its interval; null where it cannot be told. */
  timeLeft(): TimeLeft | null {
    if (!this.#ready) return null;
    // Of a quantity that only stands by less is asked.
    const spread = (q: number): number =>
      (isDecisive(this.#specs[q]) ? 1 : 0.5) * (this.judgements[q]?.driftSd ?? 0);
    return forecastTimeLeft(this.#basis, this.#forecasts, this.#specs, spread);
  }

  /** Whether a sudden change (K) of a quantity is no more than its known swing does by itself. */
  swingsSo(key: QuantityKey, size: number): boolean {
    const swing = this.judgements[this.#specs.findIndex((s) => s.key === key)]?.swing ?? null;
    return swing !== null && Math.abs(size) < OWN_EDGE * swing.amplitude;
  }

  /** Takes a base block of one quantity. */
  block(q: number, mean: number, seconds: number, span: number): void {
    this.#finders[q]?.block(mean, seconds, span, this.#pace[q] ?? 0);
    this.#sway.block(q, mean, span);
  }

  /** Judges anew after the history has grown. */
  evaluate(now: number): void {
    if (this.#blocks.size < 2) return;
    this.#ready =
      now - (this.#blocks.from[0] ?? now) >= LEAST_PAST_S && this.#blocks.size >= LEAST_BLOCKS;
    this.#lookForSwing();
    this.#fit(now);
    this.#checkRecord(now);
    this.#chooseWindow(now);
    this.#sway.check(now);
    this.#weigh();
    if (this.#ready) this.#sway.note(now, (q) => this.#claims[q] ?? NaN);
    this.#sumUp();
  }

  /**
   * The past no longer counts: the history was cut.
   * @param disturbed by a disturbance, of which it is not yet known how far it reaches
   */
  cut(disturbed: boolean): void {
    this.#ready = false;
    if (disturbed) this.#seenStart = false;
    this.#window = null;
    this.#period = 0;
    this.#record.clear();
    // A swing whose edges are sharp looks like one disturbance after another: what tells it from
    // them is that they come back, and so its finder looks on over them.
    if (!disturbed) for (const finder of this.#finders) finder.clear();
    if (disturbed) this.#sway.overtake();
    else this.#sway.clear();
    for (const judgement of this.judgements) {
      judgement.swing = null;
      forget(judgement);
    }
    this.#sumUp();
  }

  /** Tells whether the start was seen: unseen, more may be under way than was seen moving. */
  seen(start: boolean): void {
    this.#seenStart = start;
  }

  #each(visit: (j: Judgement, f: Forecast, spec: QuantitySpec, q: number) => void): void {
    this.judgements.forEach((judgement, q) => {
      const forecast = this.#forecasts[q];
      const spec = this.#specs[q];
      if (forecast !== undefined && spec !== undefined) visit(judgement, forecast, spec, q);
    });
  }

  /** Draws together what the quantities say: asked for at every frame, it changes with the evidence. */
  #sumUp(): void {
    this.#confidence = this.#product();
    this.#worst = this.#leastLikely();
  }

  #product(): number {
    let product = 1;
    this.#each((j, _, spec) => {
      if (!isDecisive(spec)) return;
      if (j.present) product *= j.probability;
      else if (spec.required) product = 0;
    });
    return product;
  }

  #leastLikely(): number {
    let index = -1;
    let least = Infinity;
    this.#each((j, _, spec, q) => {
      // The others come first only when they hold the settling up.
      const weight = isDecisive(spec) ? j.probability : Math.min(1, standing(j, spec) / STANDBY);
      if (!j.present || weight >= least) return;
      least = weight;
      index = q;
    });
    return index;
  }

  /** One quantity a turn is searched for a swing; the strongest gives all their period. */
  #lookForSwing(): void {
    this.#turn = (this.#turn + 1) % this.#specs.length;
    const judgement = this.judgements[this.#turn];
    const spec = this.#specs[this.#turn];
    const finder = this.#finders[this.#turn];
    if (judgement === undefined || spec === undefined || finder === undefined) return;
    judgement.swing = judgement.present ? finder.search(LEAST_SWING * spec.tolerance) : null;
    let strongest = 0;
    this.#period = 0;
    this.#each((j, _, s) => {
      if (j.swing === null || j.swing.sine / s.tolerance <= strongest) return;
      strongest = j.swing.sine / s.tolerance;
      this.#period = j.swing.period;
    });
  }

  #fit(now: number): void {
    layBasis(this.#basis, this.#blocks, {
      horizon: this.#horizon,
      period: this.#period,
      pace: this.#slowest(),
    });
    this.#each((j, f, spec, q) => {
      const back = Math.max(LEVEL_S, SLOW_VALUES * (this.#pace[q] ?? 0));
      const level = meanOver(this.#blocks, q, now - back, now);
      j.present = level !== null;
      f.ok = false;
      if (level === null) return;
      const leastExcursion = (this.#seenStart ? EXCURSION_SEEN : EXCURSION_UNSEEN) * spec.tolerance;
      const apart = this.#noise[q]?.density() ?? 0;
      // Second differences count a swing and the first rush as noise; the residuals of the last
      // fit do not, but it may have followed some of the noise.
      const beside = (this.#period > 0 ? 1 : RESIDUAL_MARGIN) * f.residual;
      const seen = beside < apart ? beside : apart;
      const density = Math.max(seen, 1e-4 * spec.tolerance ** 2);
      this.#density[q] = density;
      const input = { quantity: q, density, level, leastExcursion };
      fitApproach(this.#basis, this.#blocks, input, this.#work, f);
    });
  }

  /** Holds earlier forecasts against what came, and notes the present one. */
  #checkRecord(now: number): void {
    this.#record.check(now, (q, from, to) => meanOver(this.#blocks, q, from, to));
    if (!this.#record.due(now)) return;
    this.#record.note(now, (q) => {
      const f = this.#forecasts[q];
      const tolerance = this.#specs[q]?.tolerance ?? 1;
      if (f?.ok !== true) return { mean: NaN, variance: 1 };
      const noise = (this.#density[q] ?? 0) / CHECK_S + LEAST_CLAIM * tolerance * tolerance;
      return { mean: f.near, variance: f.nearVariance + noise };
    });
  }

  #chooseWindow(now: number): void {
    const oldest = this.#blocks.from[0] ?? now;
    const period = this.#period;
    const least = this.#leastWindow();
    const whole = [Math.max(1, Math.round(Math.max(120, least) / period)) * period];
    const lengths = period > 0 ? whole : WINDOWS.filter((s, i) => i > 2 || s >= least);
    const shortest = lengths[0] ?? WINDOWS[0];
    let chosen = shortest;
    for (const length of lengths) {
      if (now - length < oldest - 1 || !this.#agrees(now, shortest, length)) break;
      chosen = length;
    }
    this.#window = { from: Math.max(oldest, now - chosen), to: now };
  }

  /** The time in which the slowest quantity has spoken twice, s. */
  #leastWindow(): number {
    return SLOW_VALUES * this.#slowest();
  }

  /** Seconds between the values of the slowest quantity there is. */
  #slowest(): number {
    let slowest = 0;
    this.#each((j, _, __, q) => {
      if (j.present) slowest = Math.max(slowest, this.#pace[q] ?? 0);
    });
    return slowest;
  }

  /** Whether a longer window has the same averages as the shortest, as far as noise lets one tell. */
  #agrees(now: number, shortest: number, length: number): boolean {
    return this.judgements.every((j, q) => {
      if (!j.present || length === shortest) return true;
      const fresh = meanOver(this.#blocks, q, now - shortest, now) ?? 0;
      const mean = meanOver(this.#blocks, q, now - length, now) ?? 0;
      const noise = Math.sqrt((this.#density[q] ?? 0) / shortest);
      const slack = WINDOW_SLACK * (this.#specs[q]?.tolerance ?? 1);
      const f = this.#forecasts[q];
      // Of a drift the longer window must not add to what is to come.
      const lag = f?.ok === true ? Math.abs(f.future - mean) - Math.abs(f.future - fresh) : 0;
      return Math.abs(mean - fresh) <= slack + noise && lag <= slack;
    });
  }

  /** How the mean moved of late; a swing is averaged over whole periods. */
  #lookBack(j: Judgement, q: number): void {
    const to = this.#window?.to ?? 0;
    const least = Math.max(60, SLOW_VALUES * (this.#pace[q] ?? 0));
    const length = this.#period > 0 ? Math.ceil(least / this.#period) * this.#period : least;
    const middle = this.#seenOver(q, length, to - LOOK_BACK_S);
    j.lately = this.#seenOver(q, length, to);
    j.recent = j.lately - middle;
    j.before = middle - this.#seenOver(q, length, to - 2 * LOOK_BACK_S);
  }

  /** Mean over so long until then; NaN where that was not all seen. */
  #seenOver(q: number, length: number, to: number): number {
    const from = to - length;
    if (from < (this.#blocks.from[0] ?? to)) return NaN;
    return meanOver(this.#blocks, q, from, to) ?? NaN;
  }

  #weigh(): void {
    const { from, to } = this.#window ?? { from: 0, to: 0 };
    this.#each((j, f, spec, q) => {
      const mean = j.present ? meanOver(this.#blocks, q, from, to) : null;
      j.value = mean ?? NaN;
      this.#claims[q] = NaN;
      if (mean === null || !f.ok) {
        forget(j);
        return;
      }
      const rounding = this.#noise[q]?.rounding() ?? 0;
      const besides = rounding + (UNFORESEEN * spec.tolerance) ** 2;
      const claimed = this.#record.widened(q, f.futureSd ** 2);
      const whole =
        j.swing !== null && j.swing.sine > SWINGS * spec.tolerance
          ? (this.#finders[q]?.drift(j.swing, this.#horizon) ?? null)
          : null;
      if (whole !== null && whole.sd ** 2 < claimed) {
        j.drift = whole.drift;
        j.driftSd = Math.sqrt(whole.sd ** 2 + besides);
        j.probability = normalWithin(j.drift, j.driftSd, spec.tolerance);
      } else {
        j.drift = f.future - mean;
        j.driftSd = Math.sqrt(claimed + besides);
        // Of a mixture: narrower in the middle and longer in its tails than one bell.
        j.probability = 0;
        for (const { weight, future, futureVariance } of f.parts) {
          const sd = Math.sqrt(this.#record.widened(q, futureVariance) + besides);
          j.probability += weight * normalWithin(future - mean, sd, spec.tolerance);
        }
      }
      if (j.probability >= CLAIMS) this.#claims[q] = j.value;
      const sway = this.#sway.variance(q);
      if (sway > j.driftSd ** 2) {
        j.driftSd = Math.sqrt(sway);
        const held = normalWithin(j.drift, j.driftSd, spec.tolerance);
        j.probability = Math.min(j.probability, held);
      }
      j.heading = f.final;
      j.headingSd = f.finalSd;
      this.#lookBack(j, q);
    });
  }
}
