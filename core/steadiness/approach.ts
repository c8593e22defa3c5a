/**
 * The approach to rest of one quantity: a final value plus decaying modes over a fixed ladder of
 * time constants, fitted to the blocks of the past by least squares with a prior on every mode
 * (Bayesian linear regression; the sum of modes needs no search for a single time constant), and
 * weighed over several strengths of the slow modes. From it follow the mean of the coming minutes and
 * the final value, each with its variance.
 */
import { MAX_TERMS, type Basis } from './basis.ts';
import { BLOCK_CAPACITY, type Blocks } from './blocks.ts';
import { layNormalEquations } from './normal-equations.ts';
import { misfit, residualDensity, takeResiduals } from './residuals.ts';
import { createParts, StrengthFits, type Estimate, type Part } from './strengths.ts';

/**
 * Error of the model relative to the distance from the present level, and how long it lasts, s. A start
 * is no sum of decaying modes: trusted too far, the first rush bends the slow modes, and what is to
 * come is overrated.
 */
const MODEL_ERROR = 0.1;
const MODEL_CORRELATION = 90;
/** Blocks with a value needed for a fit. */
const LEAST_USED = 4;
/**
 * Before any data all strengths are alike, evenly in the logarithm, once so long was watched, s, and in
 * so many blocks. Before that the weaker ones count less, by the fourth power of what is missing: just
 * after a start nothing has come to rest, a slow mode still looks like a fast one, and of a few values
 * (one a minute) the simplest story always fits.
 */
const REST_AFTER_S = 300;
const REST_AFTER_BLOCKS = 16;

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
    parts: createParts(),
  };
}

/** Work space of a fit, made once. */
export interface Workspace {
  readonly fits: StrengthFits;
  /** By block: 1 / variance of what was seen, and what the fit leaves of it. */
  readonly weights: Float64Array;
  readonly residuals: Float64Array;
  readonly coefficients: Float64Array;
  readonly estimate: Estimate;
}

/** Work space for `fitApproach`. */
export function createWorkspace(): Workspace {
  return {
    fits: new StrengthFits(),
    weights: new Float64Array(BLOCK_CAPACITY),
    residuals: new Float64Array(BLOCK_CAPACITY),
    coefficients: new Float64Array(MAX_TERMS),
    estimate: { mean: 0, variance: 0 },
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
  const { quantity: q, level, density, leastExcursion } = input;
  const nq = blocks.quantities;
  const { terms, columns } = basis;
  const { fits, weights, residuals, coefficients, estimate } = work;
  const seen = columns[terms] ?? residuals;
  let used = 0;
  let excursion = leastExcursion;
  for (let i = 0, at = q; i < basis.size; i += 1, at += nq) {
    const seconds = blocks.seconds[at] ?? 0;
    if (!(seconds > 0)) {
      seen[i] = 0;
      weights[i] = 0;
      continue;
    }
    used += 1;
    const y = (blocks.mean[at] ?? 0) - level;
    seen[i] = y;
    const away = Math.abs(y);
    if (away > excursion) excursion = away;
    const model = MODEL_ERROR * y;
    // Variance times seconds: noise averages out, what the model lacks does only after a while.
    const lasts = seconds > MODEL_CORRELATION ? seconds : MODEL_CORRELATION;
    const spread = density + model * model * lasts;
    weights[i] = seconds / (spread * (basis.fading[i] ?? 1));
  }
  out.ok = used >= LEAST_USED;
  if (!out.ok) return;
  layNormalEquations(columns, terms, basis.reach, weights, fits.matrix);
  fits.solve(basis, { seen: excursion, least: leastExcursion });
  fits.full(coefficients);
  takeResiduals(basis, blocks, seen, coefficients, residuals);
  out.residual = residualDensity(basis, blocks, q, residuals);
  // Scatter beyond what noise and model error allow: all is then as much less sure.
  const excess = Math.max(1, misfit(basis, blocks, residuals, weights)) ** 2;
  const watched = Math.min((basis.now - basis.origin) / REST_AFTER_S, used / REST_AFTER_BLOCKS);
  fits.weigh(excess, 4 * Math.log(Math.min(1, watched)));
  fits.mixed(out.coefficients);
  fits.future(level, excess, out.parts, estimate);
  out.future = estimate.mean;
  out.futureSd = Math.sqrt(estimate.variance);
  fits.near(level, excess, estimate);
  out.near = estimate.mean;
  out.nearVariance = estimate.variance;
  fits.final(level, excess, estimate);
  out.final = estimate.mean;
  out.finalSd = Math.sqrt(estimate.variance);
}
