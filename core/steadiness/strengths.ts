/**
 * How strong the slow modes of a quantity are is not known beforehand: its fit is solved for several
 * strengths, from "still on its way" to "as good as at rest", and each counts by how well it foretells
 * the data (its marginal likelihood). What the strengths share is eliminated once; what is left, the
 * slow modes alone, is solved for each.
 */
import { CONSTANT, MAX_TERMS, placeOf, SLOW_MODES, TAUS, type Basis } from './basis.ts';
import { backward, dot, factor, reduce } from './linear.ts';

/** Strengths of the slow modes that are weighed against each other, relative to their priors. */
const STRENGTHS = [1, 1 / 4, 1 / 16, 1 / 64] as const;

/** Prior spread of each mode relative to the excursion seen. */
const PRIOR = [1, 1, 0.7, 0.5, 0.4, 0.5, 1] as const;
/**
 * ... but no more than so many times the least excursion: what is slow is driven by the room and
 * the weather, not by the violence of the start.
 */
const CAP = [Infinity, 8, 4, 2.5, 2, 4, 16] as const;
/** The final value and the swing are left almost free: their spread relative to the excursion. */
const FREE_LEVEL = 100;
const FREE_SWING = 3;

/** Right sides, as rows below the matrix: what was seen, and what is asked of the fit. */
const SEEN = 0;
const FUTURE = 1;
const NEAR = 2;
const FINAL = 3;
const RIGHT_SIDES = 4;
const SLOW_CELLS = (SLOW_MODES + RIGHT_SIDES) * SLOW_MODES;

/** How far the modes of a quantity may reach: the excursion seen, and the least one assumed, K. */
export interface Excursion {
  readonly seen: number;
  readonly least: number;
}

/** What one strength says of a quantity. */
export interface Part {
  /** Its share in the whole; the shares sum to 1. */
  weight: number;
  /** Mean over the coming horizon, K, and its variance, K². */
  future: number;
  futureVariance: number;
}

/** One part for each strength, the strongest first. */
export function createParts(): Part[] {
  return STRENGTHS.map(() => ({ weight: 0, future: 0, futureVariance: 0 }));
}

/** What all strengths together say of a mean. */
export interface Estimate {
  mean: number;
  variance: number;
}

/** Solves fit after fit, each for every strength. */
export class StrengthFits {
  /** Gets the normal equations of the data: a column for each term, and below them what was seen. */
  readonly matrix = new Float64Array((MAX_TERMS + RIGHT_SIDES) * MAX_TERMS);
  /** What is left of them for the slow modes once the other terms are eliminated. */
  readonly #shared = new Float64Array(SLOW_CELLS);
  /** The same with the prior of a strength, factored. */
  readonly #slow = STRENGTHS.map(() => new Float64Array(SLOW_CELLS));
  readonly #precision = new Float64Array(SLOW_MODES);
  readonly #solution = new Float64Array(SLOW_MODES);
  readonly #weights = new Float64Array(STRENGTHS.length);
  /** By strength, of what was asked last. */
  readonly #means = new Float64Array(STRENGTHS.length);
  readonly #variances = new Float64Array(STRENGTHS.length);
  #terms = 0;
  /** Terms before the slow modes. */
  #lead = 0;

  /** Adds the priors to the equations in `matrix` and solves them for every strength. */
  solve(basis: Basis, excursion: Excursion): void {
    const { matrix } = this;
    const { terms } = basis;
    this.#terms = terms;
    this.#lead = terms - SLOW_MODES;
    const rows = terms + RIGHT_SIDES;
    for (let a = 0; a < terms; a += 1) {
      matrix[(terms + FUTURE) * terms + a] = basis.future[a] ?? 0;
      matrix[(terms + NEAR) * terms + a] = basis.near[a] ?? 0;
      matrix[(terms + FINAL) * terms + a] = a === CONSTANT ? 1 : 0;
    }
    this.#addPriors(excursion);
    factor(matrix, terms, rows, this.#lead);
    reduce(matrix, terms, rows, this.#lead, this.#shared);
    for (let s = 0; s < STRENGTHS.length; s += 1) this.#solveFor(s);
  }

  #solveFor(s: number): void {
    const slow = this.#slow[s] ?? this.#shared;
    for (let i = 0; i < SLOW_CELLS; i += 1) slow[i] = this.#shared[i] ?? 0;
    const square = (STRENGTHS[s] ?? 1) ** 2;
    for (let k = 0; k < SLOW_MODES; k += 1) {
      const at = k * SLOW_MODES + k;
      slow[at] = (slow[at] ?? 0) + (this.#precision[k] ?? 0) / square;
    }
    factor(slow, SLOW_MODES, SLOW_MODES + RIGHT_SIDES, SLOW_MODES);
  }

  /**
   * Weighs the strengths against each other.
   * @param excess variance of the data relative to what their weights say: evidence counts the less
   * @param handicap logarithm of how much less all but the full strength count before any data
   */
  weigh(excess: number, handicap: number): void {
    let top = -Infinity;
    for (let s = 0; s < STRENGTHS.length; s += 1) {
      const weight = this.#evidence(s, excess) + (s > 0 ? handicap : 0);
      this.#weights[s] = weight;
      top = Math.max(top, weight);
    }
    let sum = 0;
    for (let s = 0; s < STRENGTHS.length; s += 1) {
      const weight = Math.exp((this.#weights[s] ?? 0) - top);
      this.#weights[s] = weight;
      sum += weight;
    }
    for (let s = 0; s < STRENGTHS.length; s += 1) this.#weights[s] = (this.#weights[s] ?? 0) / sum;
  }

  /** Logarithm of the marginal likelihood of a strength, but for what all of them share. */
  #evidence(s: number, excess: number): number {
    const slow = this.#slow[s] ?? this.#shared;
    let pivots = 1;
    for (let k = 0; k < SLOW_MODES; k += 1) pivots *= slow[k * SLOW_MODES + k] ?? 1;
    const spreads = SLOW_MODES * Math.log(STRENGTHS[s] ?? 1);
    return (0.5 * this.#slowProduct(s, SEEN, SEEN)) / excess - Math.log(pivots) - spreads;
  }

  /** Coefficients at full strength. */
  full(out: Float64Array): void {
    out.fill(0);
    this.#addSlow(0, 1, out);
    this.#complete(out);
  }

  /** Coefficients of all strengths together. */
  mixed(out: Float64Array): void {
    out.fill(0);
    for (let s = 0; s < STRENGTHS.length; s += 1) this.#addSlow(s, this.#weights[s] ?? 0, out);
    this.#complete(out);
  }

  /** Mean over the coming horizon, by every strength and by all of them. */
  future(level: number, excess: number, parts: readonly Part[], out: Estimate): void {
    this.#estimate(FUTURE, level, excess, out);
    let s = 0;
    for (const part of parts) {
      part.weight = this.#weights[s] ?? 0;
      part.future = this.#means[s] ?? 0;
      part.futureVariance = this.#variances[s] ?? 0;
      s += 1;
    }
  }

  /** Mean over the nearer time that is checked later. */
  near(level: number, excess: number, out: Estimate): void {
    this.#estimate(NEAR, level, excess, out);
  }

  /** The final value. */
  final(level: number, excess: number, out: Estimate): void {
    this.#estimate(FINAL, level, excess, out);
  }

  #estimate(row: number, level: number, excess: number, out: Estimate): void {
    const base = level + this.#leadProduct(SEEN, row);
    const spread = this.#leadProduct(row, row);
    out.mean = 0;
    for (let s = 0; s < STRENGTHS.length; s += 1) {
      const mean = base + this.#slowProduct(s, SEEN, row);
      this.#means[s] = mean;
      this.#variances[s] = excess * (spread + this.#slowProduct(s, row, row));
      out.mean += (this.#weights[s] ?? 0) * mean;
    }
    out.variance = 0;
    for (let s = 0; s < STRENGTHS.length; s += 1) {
      const apart = (this.#means[s] ?? 0) - out.mean;
      out.variance += (this.#weights[s] ?? 0) * ((this.#variances[s] ?? 0) + apart * apart);
    }
  }

  /** Product of two right sides over the terms that are eliminated; and over the slow modes. */
  #leadProduct(a: number, b: number): number {
    const n = this.#terms;
    return dot(this.matrix, (n + a) * n, this.matrix, (n + b) * n, this.#lead);
  }

  #slowProduct(s: number, a: number, b: number): number {
    const slow = this.#slow[s] ?? this.#shared;
    const n = SLOW_MODES;
    return dot(slow, (n + a) * n, slow, (n + b) * n, n);
  }

  /** Adds so much of the slow modes' coefficients at one strength. */
  #addSlow(s: number, share: number, out: Float64Array): void {
    const slow = this.#slow[s] ?? this.#shared;
    const solution = this.#solution;
    const at = (SLOW_MODES + SEEN) * SLOW_MODES;
    for (let k = 0; k < SLOW_MODES; k += 1) solution[k] = slow[at + k] ?? 0;
    backward(slow, SLOW_MODES, solution, SLOW_MODES);
    for (let k = 0; k < SLOW_MODES; k += 1) {
      out[this.#lead + k] = (out[this.#lead + k] ?? 0) + share * (solution[k] ?? 0);
    }
  }

  /** Finds the other coefficients, those of the slow modes given. */
  #complete(out: Float64Array): void {
    const terms = this.#terms;
    const at = (terms + SEEN) * terms;
    for (let a = 0; a < this.#lead; a += 1) out[a] = this.matrix[at + a] ?? 0;
    backward(this.matrix, terms, out, this.#lead);
  }

  /** Puts the priors on the eliminated terms into the matrix, those of the slow modes aside. */
  #addPriors({ seen, least }: Excursion): void {
    const terms = this.#terms;
    for (let a = CONSTANT; a < this.#lead; a += 1) {
      this.#addPrecision(a, 1 / ((a === CONSTANT ? FREE_LEVEL : FREE_SWING) * seen) ** 2);
    }
    for (let k = 0; k < TAUS.length; k += 1) {
      const spread = Math.min((PRIOR[k] ?? 1) * seen, (CAP[k] ?? 1) * least);
      const place = placeOf(k, terms);
      if (place < this.#lead) this.#addPrecision(place, 1 / (spread * spread));
      else this.#precision[place - this.#lead] = 1 / (spread * spread);
    }
  }

  #addPrecision(term: number, precision: number): void {
    const at = term * this.#terms + term;
    this.matrix[at] = (this.matrix[at] ?? 0) + precision;
  }
}
