/**
 * The approach to rest of one quantity: a final value plus decaying modes over a fixed ladder of
 * time constants, fitted to the blocks of the past by least squares with a prior on every mode
 * (Bayesian linear regression; the sum of modes needs no search for a single time constant). How
 * strong the slow modes are is not known beforehand: the fit is made for several strengths, from
 * "still on its way" to "as good as at rest", and each counts by how well it foretells the data
 * (its marginal likelihood). From the mixture follow the mean of the coming minutes and the final
 * value, each with its variance.
 */
import { BLOCK_CAPACITY, type Blocks } from './blocks.ts';
import { CHECK_S } from './track-record.ts';
import { backward, dot, factor, forward } from './linear.ts';

/** Time constants of the modes, s; the longest stands for slow drift of room and weather. */
const TAUS = [20, 45, 100, 220, 480, 1050, 2300] as const;
const MODES = TAUS.length;
/** Harmonics of the swing fitted beside the modes. */
const HARMONICS = 2;
const MAX_TERMS = 1 + MODES + 2 * HARMONICS;

/** Prior spread of each mode relative to the excursion seen. */
const PRIOR = [1, 1, 0.7, 0.5, 0.4, 0.5, 1] as const;
/**
 * ... but no more than so many times the least excursion: what is slow is driven by the room and
 * the weather, not by the violence of the start.
 */
const CAP = [Infinity, 8, 4, 2.5, 2, 4, 16] as const;
/**
 * Strengths of the slow modes that are weighed against each other, relative to those priors. Slow are
 * those from this time constant on, s.
 */
const STRENGTHS = [1, 1 / 4, 1 / 16, 1 / 64] as const;
const SLOW_FROM = 100;
/**
 * Before any data all strengths are alike, evenly in the logarithm, once so long was watched, s, and in
 * so many blocks. Before that the weaker ones count less, by the fourth power of what is missing: just
 * after a start nothing has come to rest, a slow mode still looks like a fast one, and of a few values
 * (one a minute) the simplest story always fits.
 */
const REST_AFTER_S = 300;
const REST_AFTER_BLOCKS = 16;
/** Age at which a block counts half, s. */
const FADING = 600;
/** Age up to which residuals count in the misfit, s. */
const MISFIT_S = 300;
/** Error of the model relative to the distance from the present level, and how long it lasts, s. */
const MODEL_ERROR = 0.03;
const MODEL_CORRELATION = 30;

/** Shared between quantities: the basis at the blocks and over the two windows. */
export interface Basis {
  size: number;
  terms: number;
  now: number;
  /** Rows by block. */
  readonly rows: Float64Array;
  readonly edge: Float64Array;
  /** Row of the mean over the coming horizon, and over the nearer time that is checked later. */
  readonly future: Float64Array;
  readonly near: Float64Array;
  horizon: number;
  origin: number;
  period: number;
}

/** An empty basis. */
export function createBasis(): Basis {
  return {
    size: 0,
    terms: 1 + MODES,
    now: 0,
    rows: new Float64Array(BLOCK_CAPACITY * MAX_TERMS),
    edge: new Float64Array(MODES),
    future: new Float64Array(MAX_TERMS),
    near: new Float64Array(MAX_TERMS),
    horizon: 0,
    origin: 0,
    period: 0,
  };
}

/** Mean of a basis function over [a, b] (s since origin), by term; swing terms average to 0. */
export function futureRow(a: number, b: number, row: Float64Array): void {
  row.fill(0, 0, MAX_TERMS);
  row[0] = 1;
  for (let k = 0; k < MODES; k += 1) {
    const tau = TAUS[k] ?? 1;
    row[1 + k] = (tau * (Math.exp(-a / tau) - Math.exp(-b / tau))) / (b - a);
  }
}

/**
 * Lays out the basis for the present blocks.
 * @param period of a swing to be fitted beside the modes, s; 0 for none
 */
export function layBasis(basis: Basis, blocks: Blocks, horizon: number, period: number): void {
  const n = blocks.size;
  const origin = blocks.from[0] ?? 0;
  basis.size = n;
  basis.origin = origin;
  basis.period = period;
  basis.terms = 1 + MODES + (period > 0 ? 2 * HARMONICS : 0);
  const terms = basis.terms;
  let end = NaN;
  for (let i = 0; i < n; i += 1) {
    const from = blocks.from[i] ?? 0;
    const to = blocks.to[i] ?? 0;
    const fresh = from !== end;
    end = to;
    const row = i * terms;
    basis.rows[row] = 1;
    for (let k = 0; k < MODES; k += 1) {
      const tau = TAUS[k] ?? 1;
      const ea = fresh ? Math.exp(-(from - origin) / tau) : (basis.edge[k] ?? 0);
      const eb = Math.exp(-(to - origin) / tau);
      basis.edge[k] = eb;
      basis.rows[row + 1 + k] = (tau * (ea - eb)) / (to - from);
    }
    for (let h = 1; h <= HARMONICS && period > 0; h += 1) {
      const w = (2 * Math.PI * h) / period;
      const x = (w * (to - from)) / 2;
      const mid = w * ((from + to) / 2 - origin);
      const damp = Math.sin(x) / x;
      basis.rows[row + MODES + 2 * h - 1] = damp * Math.cos(mid);
      basis.rows[row + MODES + 2 * h] = damp * Math.sin(mid);
    }
  }
  basis.now = end;
  basis.horizon = horizon;
  futureRow(end - origin, end - origin + horizon, basis.future);
  futureRow(end - origin, end - origin + CHECK_S, basis.near);
}

/** What one strength of the slow modes says of a quantity; variances in K². */
export interface Part {
  /** Its share in the whole; the shares sum to 1. */
  weight: number;
  future: number;
  futureVariance: number;
  near: number;
  nearVariance: number;
  final: number;
  finalVariance: number;
  readonly coefficients: Float64Array;
}

/** What the fit says of one quantity. */
export interface Forecast {
  ok: boolean;
  /** Mean over the coming horizon and its standard deviation, K. */
  future: number;
  futureSd: number;
  /** Mean over the nearer time and its variance, for the track record. */
  near: number;
  nearVariance: number;
  /** Final value and its standard deviation, K. */
  final: number;
  finalSd: number;
  /** Noise density by the residuals of the finest blocks and of pairs of them, K²·s. */
  residual: number;
  readonly coefficients: Float64Array;
  /** What it is put together from. */
  readonly parts: readonly Part[];
}

/** An empty forecast. */
export function createForecast(): Forecast {
  return {
    ok: false,
    future: 0,
    futureSd: 0,
    near: 0,
    nearVariance: 0,
    final: 0,
    finalSd: 0,
    residual: NaN,
    coefficients: new Float64Array(MAX_TERMS),
    parts: STRENGTHS.map(() => ({
      weight: 0,
      future: 0,
      futureVariance: 0,
      near: 0,
      nearVariance: 0,
      final: 0,
      finalVariance: 0,
      coefficients: new Float64Array(MAX_TERMS),
    })),
  };
}

/** Work space of a fit, made once. */
export interface Workspace {
  /** Normal equations of the data alone. */
  readonly gram: Float64Array;
  readonly moments: Float64Array;
  /** The same with a prior, factored and solved. */
  readonly matrix: Float64Array;
  readonly right: Float64Array;
  readonly column: Float64Array;
  readonly weights: Float64Array;
}

/** Work space for `fitApproach`. */
export function createWorkspace(): Workspace {
  return {
    gram: new Float64Array(MAX_TERMS * MAX_TERMS),
    moments: new Float64Array(MAX_TERMS),
    matrix: new Float64Array(MAX_TERMS * MAX_TERMS),
    right: new Float64Array(MAX_TERMS),
    column: new Float64Array(MAX_TERMS),
    weights: new Float64Array(BLOCK_CAPACITY),
  };
}

/** What the fit of one quantity is told about it. */
export interface FitInput {
  readonly quantity: number;
  /** Noise density, K²·s. */
  readonly density: number;
  /** Present level the distances are counted from, K. */
  readonly level: number;
  /** Smallest prior excursion, K. */
  readonly leastExcursion: number;
}

/** Fits one quantity. Blocks without a value are passed over. */
export function fitApproach(
  basis: Basis,
  blocks: Blocks,
  input: FitInput,
  work: Workspace,
  out: Forecast,
): void {
  const { quantity: q, level } = input;
  const nq = blocks.quantities;
  const terms = basis.terms;
  const { gram, moments, right, weights } = work;
  gram.fill(0);
  moments.fill(0);
  let used = 0;
  let excursion = input.leastExcursion;
  for (let i = 0; i < basis.size; i += 1) {
    const seconds = blocks.seconds[i * nq + q] ?? 0;
    weights[i] = 0;
    if (!(seconds > 0)) continue;
    used += 1;
    const y = (blocks.mean[i * nq + q] ?? 0) - level;
    excursion = Math.max(excursion, Math.abs(y));
    const model = MODEL_ERROR * y;
    const variance =
      input.density / seconds + model * model * Math.max(1, MODEL_CORRELATION / seconds);
    const age = basis.now - (blocks.to[i] ?? 0);
    const w = 1 / (variance * (1 + (age / FADING) ** 2));
    weights[i] = w;
    accumulate(basis.rows, i * terms, terms, w, y, gram, moments);
  }
  out.ok = used >= 4;
  if (!out.ok) return;
  const reach = { excursion, least: input.leastExcursion };
  solve(work, terms, reach, 1, 1);
  // Scatter beyond what noise and model error allow: all is then as much less sure.
  const excess = Math.max(1, misfit(basis, blocks, q, level, weights, right)) ** 2;
  out.residual = residualDensity(basis, blocks, q, level, right);
  forecast(basis, out, work, { level, excess, reach, used });
}

/** How far the modes of a quantity may reach: the excursion seen, and the least one assumed, K. */
interface Reach {
  readonly excursion: number;
  readonly least: number;
}

/**
 * Solves for one strength of the slow modes; leaves the factor in `matrix`, the coefficients in `right`.
 * @param excess variance of the data relative to what their weights say: evidence counts the less
 * @returns logarithm of the marginal likelihood, but for what all strengths share
 */
function solve(
  work: Workspace,
  terms: number,
  reach: Reach,
  strength: number,
  excess: number,
): number {
  const { gram, moments, matrix, right } = work;
  matrix.set(gram);
  right.set(moments);
  let log = addPrior(matrix, terms, reach, strength);
  factor(matrix, terms);
  forward(matrix, terms, right);
  log += (0.5 * dot(right, right, terms)) / excess;
  for (let a = 0; a < terms; a += 1) log -= Math.log(matrix[a * terms + a] ?? 1);
  backward(matrix, terms, right);
  return log;
}

/** Forecasts by every strength of the slow modes, and by all of them, weighted. */
function forecast(
  basis: Basis,
  out: Forecast,
  work: Workspace,
  { level, excess, reach, used }: { level: number; excess: number; reach: Reach; used: number },
): void {
  const { terms } = basis;
  const watched = Math.min((basis.now - basis.origin) / REST_AFTER_S, used / REST_AFTER_BLOCKS);
  const early = 4 * Math.log(Math.min(1, watched));
  let top = -Infinity;
  out.parts.forEach((part, i) => {
    const strength = STRENGTHS[i] ?? 1;
    part.weight = solve(work, terms, reach, strength, excess) + (strength < 1 ? early : 0);
    top = Math.max(top, part.weight);
    predict(basis, part, work, level, excess);
  });
  let sum = 0;
  for (const part of out.parts) {
    part.weight = Math.exp(part.weight - top);
    sum += part.weight;
  }
  const all = (of: (part: Part) => number): number =>
    out.parts.reduce((total, part) => total + part.weight * of(part), 0);
  for (const part of out.parts) part.weight /= sum;
  out.future = all((p) => p.future);
  out.futureSd = Math.sqrt(all((p) => p.futureVariance + (p.future - out.future) ** 2));
  out.near = all((p) => p.near);
  out.nearVariance = all((p) => p.nearVariance + (p.near - out.near) ** 2);
  out.final = all((p) => p.final);
  out.finalSd = Math.sqrt(all((p) => p.finalVariance + (p.final - out.final) ** 2));
  for (let a = 0; a < terms; a += 1) out.coefficients[a] = all((p) => p.coefficients[a] ?? 0);
}

function accumulate(
  rows: Float64Array,
  at: number,
  terms: number,
  w: number,
  y: number,
  matrix: Float64Array,
  right: Float64Array,
): void {
  for (let a = 0; a < terms; a += 1) {
    const wa = w * (rows[at + a] ?? 0);
    right[a] = (right[a] ?? 0) + wa * y;
    const base = a * terms;
    for (let b = 0; b <= a; b += 1) {
      matrix[base + b] = (matrix[base + b] ?? 0) + wa * (rows[at + b] ?? 0);
    }
  }
}

/** Adds the prior of every term; returns the logarithm of its density at zero, but for a constant. */
function addPrior(matrix: Float64Array, terms: number, reach: Reach, strength: number): number {
  const { excursion, least } = reach;
  let log = 0;
  for (let a = 0; a < terms; a += 1) {
    let spread = 100 * excursion; // the final value and the swing are left almost free
    if (a > 0 && a <= MODES) {
      spread = Math.min((PRIOR[a - 1] ?? 1) * excursion, (CAP[a - 1] ?? 1) * least);
      if ((TAUS[a - 1] ?? 0) >= SLOW_FROM) spread *= strength;
    } else if (a > MODES) spread = 3 * excursion;
    matrix[a * terms + a] = (matrix[a * terms + a] ?? 0) + 1 / (spread * spread);
    log -= Math.log(spread);
  }
  return log;
}

/** Root of the weighted mean square of the residuals, inflated for runs of one sign. */
function misfit(
  basis: Basis,
  blocks: Blocks,
  q: number,
  level: number,
  weights: Float64Array,
  c: Float64Array,
): number {
  const nq = blocks.quantities;
  const terms = basis.terms;
  let sum = 0;
  let lagged = 0;
  let n = 0;
  let before = 0;
  for (let i = 0; i < basis.size; i += 1) {
    const w = weights[i] ?? 0;
    if (w === 0) continue;
    let r = (blocks.mean[i * nq + q] ?? 0) - level;
    for (let a = 0; a < terms; a += 1) r -= (c[a] ?? 0) * (basis.rows[i * terms + a] ?? 0);
    r *= Math.sqrt(w);
    if (basis.now - (blocks.to[i] ?? 0) > MISFIT_S) continue;
    sum += r * r;
    lagged += r * before;
    before = r;
    n += 1;
  }
  if (n < 4) return 1;
  const variance = (sum + 3) / (n + 3 - Math.min(3, n - 3)); // shrunk towards 1, few degrees spent
  const correlation = Math.max(0, Math.min(0.9, lagged / (sum + 3)));
  return Math.sqrt((variance * (1 + correlation)) / (1 - correlation));
}

/** Blocks whose residuals speak for the noise: those of the last minutes. */
const RESIDUAL_S = 240;

/** Noise density by residuals: the larger of what single blocks and neighbouring pairs say. */
function residualDensity(
  basis: Basis,
  blocks: Blocks,
  q: number,
  level: number,
  c: Float64Array,
): number {
  const nq = blocks.quantities;
  const terms = basis.terms;
  let singles = 0;
  let n = 0;
  let pairs = 0;
  let m = 0;
  let held = NaN;
  for (let i = basis.size - 1; i >= 0; i -= 1) {
    const seconds = blocks.seconds[i * nq + q] ?? 0;
    if ((blocks.to[i] ?? 0) < basis.now - RESIDUAL_S) break;
    if (!(seconds > 0)) continue;
    let r = (blocks.mean[i * nq + q] ?? 0) - level;
    for (let a = 0; a < terms; a += 1) r -= (c[a] ?? 0) * (basis.rows[i * terms + a] ?? 0);
    singles += r * r * seconds;
    n += 1;
    const whole = r * seconds;
    if (Number.isNaN(held)) held = whole;
    else {
      pairs += (held + whole) ** 2 / (2 * seconds);
      m += 1;
      held = NaN;
    }
  }
  if (n < 8) return NaN;
  return Math.max(singles / (n - 4), pairs / Math.max(1, m - 1));
}

/** What the factor and the coefficients just solved for say of the times to come. */
function predict(basis: Basis, out: Part, work: Workspace, level: number, excess: number): void {
  const { terms } = basis;
  const { column, matrix, right } = work;
  out.coefficients.set(right);
  column.set(basis.future);
  out.future = level + dot(column, right, terms);
  forward(matrix, terms, column);
  out.futureVariance = excess * dot(column, column, terms);
  column.set(basis.near);
  out.near = level + dot(column, right, terms);
  forward(matrix, terms, column);
  out.nearVariance = excess * dot(column, column, terms);
  column.fill(0);
  column[0] = 1;
  out.final = level + (right[0] ?? 0);
  forward(matrix, terms, column);
  out.finalVariance = excess * dot(column, column, terms);
}
