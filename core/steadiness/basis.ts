/**
 * What every quantity is fitted with: a constant, the harmonics of a swing where there is one, and
 * decaying modes over a fixed ladder of time constants; averaged over the blocks of the past and over
 * the times to come. Laid out once for all quantities, since they share their blocks.
 */
import { BLOCK_CAPACITY, type Blocks } from './blocks.ts';
import { CHECK_S } from './track-record.ts';

/** Time constants of the modes, s; the longest stands for slow drift of room and weather. */
export const TAUS = [20, 45, 100, 220, 480, 1050, 2300] as const;
const MODES = TAUS.length;
/** Modes from this time constant on are slow, s: how strong they are is not known beforehand. */
const SLOW_FROM = 100;
const FAST_MODES = TAUS.filter((tau) => tau < SLOW_FROM).length;
export const SLOW_MODES = MODES - FAST_MODES;
/** Harmonics of the swing fitted beside the modes. */
const HARMONICS = 2;
export const MAX_TERMS = MODES + 1 + 2 * HARMONICS;
/** Terms stand in this order: fast modes, the constant, the swing, slow modes. */
export const CONSTANT = FAST_MODES;
/** After so many time constants nothing is left of a fast mode that any figure could show (2e-9). */
const GONE_AFTER = 20;
/** Age at which a block counts half, s; and no sooner than so many values of the slowest quantity took. */
const FADING = 150;
const FADING_VALUES = 10;

/** Shared between quantities: the terms at the blocks and over the two windows. */
export interface Basis {
  /** Blocks laid out. */
  size: number;
  /** Terms in use. */
  terms: number;
  /**
   * By term, its means over the blocks, oldest first. Behind the last term is the place of what is
   * seen of the quantity that is being fitted.
   */
  readonly columns: readonly Float64Array[];
  /** By term, how many of the oldest blocks it reaches; from the others it is gone. Never falling. */
  readonly reach: Int32Array;
  /** By block, how many times its variance counts for its age. */
  readonly fading: Float64Array;
  /** Means over the coming horizon, by term, and over the nearer time that is checked later. */
  readonly future: Float64Array;
  readonly near: Float64Array;
  now: number;
  horizon: number;
  /** Start of the oldest block, from which the modes decay, s. */
  origin: number;
  /** Ends of the blocks and, by mode, what is left of it there: the next blocks have most of them. */
  readonly ends: Float64Array;
  readonly left: readonly Float64Array[];
}

/** An empty basis. */
export function createBasis(): Basis {
  const perBlock = (): Float64Array => new Float64Array(BLOCK_CAPACITY);
  return {
    size: 0,
    terms: 1 + MODES,
    columns: Array.from({ length: MAX_TERMS + 1 }, perBlock),
    reach: new Int32Array(MAX_TERMS),
    fading: perBlock(),
    future: new Float64Array(MAX_TERMS),
    near: new Float64Array(MAX_TERMS),
    now: 0,
    horizon: 0,
    origin: NaN,
    ends: perBlock(),
    left: TAUS.map(perBlock),
  };
}

/** Where a mode stands among so many terms. */
export function placeOf(mode: number, terms: number): number {
  return mode < FAST_MODES ? mode : mode + terms - MODES;
}

/** Means of the terms over [a, b] (s since origin); swing terms average to 0. */
export function futureRow(terms: number, a: number, b: number, row: Float64Array): void {
  row.fill(0);
  row[CONSTANT] = 1;
  for (let k = 0; k < MODES; k += 1) {
    const tau = TAUS[k] ?? 1;
    row[placeOf(k, terms)] = (tau * (Math.exp(-a / tau) - Math.exp(-b / tau))) / (b - a);
  }
}

/** What the terms are laid out for. */
export interface Layout {
  /** The coming time that is foretold, s. */
  readonly horizon: number;
  /** Period of a swing to be fitted beside the modes, s; 0 for none. */
  readonly period: number;
  /** Seconds between the values of the slowest quantity. */
  readonly pace: number;
}

/** Lays out the basis for the present blocks. */
export function layBasis(basis: Basis, blocks: Blocks, { horizon, period, pace }: Layout): void {
  const n = blocks.size;
  const origin = blocks.from[0] ?? 0;
  const now = n > 0 ? (blocks.to[n - 1] ?? 0) : NaN;
  const terms = MODES + 1 + (period > 0 ? 2 * HARMONICS : 0);
  basis.reach.fill(n);
  const same = layEnds(basis, blocks, origin);
  layModes(basis, blocks, origin, terms, terms === basis.terms ? same : 0);
  basis.columns[CONSTANT]?.fill(1, 0, n);
  if (period > 0) laySwing(basis, blocks, origin, period);
  const half = Math.max(FADING, FADING_VALUES * pace);
  for (let i = 0; i < n; i += 1) {
    const age = now - (blocks.to[i] ?? 0);
    basis.fading[i] = 1 + (age / half) ** 2;
  }
  basis.size = n;
  basis.terms = terms;
  basis.origin = origin;
  basis.now = now;
  basis.horizon = horizon;
  futureRow(terms, now - origin, now - origin + horizon, basis.future);
  futureRow(terms, now - origin, now - origin + CHECK_S, basis.near);
}

/** @param same how many of the oldest blocks are laid out already */
function layModes(basis: Basis, blocks: Blocks, origin: number, terms: number, same: number): void {
  const n = blocks.size;
  for (let k = 0; k < MODES; k += 1) {
    const tau = TAUS[k] ?? 1;
    const left = basis.left[k];
    const place = placeOf(k, terms);
    const column = basis.columns[place];
    if (left === undefined || column === undefined) continue;
    const fast = k < FAST_MODES;
    let reach = fast ? 0 : same;
    let end = NaN;
    let leftAtEnd = 0;
    for (; reach < n; reach += 1) {
      const from = blocks.from[reach] ?? 0;
      if (fast && from - origin > GONE_AFTER * tau) break;
      const leftAtStart = from === end ? leftAtEnd : Math.exp(-(from - origin) / tau);
      leftAtEnd = left[reach] ?? 0;
      end = blocks.to[reach] ?? 0;
      column[reach] = (tau * (leftAtStart - leftAtEnd)) / (end - from);
    }
    column.fill(0, reach, n);
    basis.reach[place] = reach;
  }
}

/**
 * Works out what is left of every mode at the ends of the blocks. As time goes on blocks are added and
 * merged, but none ends where none did before: of the old ends what was worked out is only moved.
 * @returns how many of the oldest blocks are the same as before
 */
function layEnds(basis: Basis, blocks: Blocks, origin: number): number {
  const { ends, left } = basis;
  const known = origin === basis.origin ? basis.size : 0;
  let old = 0;
  let same = 0;
  for (let i = 0; i < blocks.size; i += 1) {
    const to = blocks.to[i] ?? 0;
    while (old < known && (ends[old] ?? 0) < to) old += 1;
    const again = old < known && ends[old] === to;
    ends[i] = to;
    if (again && old === i) {
      if (same === i) same += 1;
      continue;
    }
    for (let k = 0; k < MODES; k += 1) {
      const of = left[k];
      if (of === undefined) continue;
      of[i] = again ? (of[old] ?? 0) : Math.exp(-(to - origin) / (TAUS[k] ?? 1));
    }
  }
  return same;
}

function laySwing(basis: Basis, blocks: Blocks, origin: number, period: number): void {
  for (let h = 1; h <= HARMONICS; h += 1) {
    const w = (2 * Math.PI * h) / period;
    const cosine = basis.columns[CONSTANT + 2 * h - 1];
    const sine = basis.columns[CONSTANT + 2 * h];
    if (cosine === undefined || sine === undefined) continue;
    for (let i = 0; i < blocks.size; i += 1) {
      const from = blocks.from[i] ?? 0;
      const to = blocks.to[i] ?? 0;
      const x = (w * (to - from)) / 2;
      const middle = w * ((from + to) / 2 - origin);
      const damp = Math.sin(x) / x;
      cosine[i] = damp * Math.cos(middle);
      sine[i] = damp * Math.sin(middle);
    }
  }
}
