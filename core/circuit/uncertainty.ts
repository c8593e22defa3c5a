/**
 * First-order propagation of uncertainty (JCGM 100:2008, "GUM", clause 5.1.2, uncorrelated inputs;
 * a common input such as the atmosphere is its own term).
 */

/** An input quantity: its value and its standard uncertainty in the same unit. */
export interface UncertainInput {
  readonly value: number;
  readonly u: number;
}

/** A number with its expanded uncertainty, k = 2. */
export interface Uncertain {
  readonly value: number;
  readonly u: number;
}

/** f at the inputs, with the uncertainty that follows from theirs; all expanded, k = 2. */
export function evaluate(
  f: (x: readonly number[]) => number,
  inputs: readonly Uncertain[],
): Uncertain {
  const standard = inputs.map(({ value, u }) => ({ value, u: u / 2 }));
  return { value: f(inputs.map((input) => input.value)), u: 2 * propagate(f, standard) };
}

/**
 * Standard uncertainty of f at the inputs: the root of the summed squares of (df/dx_i) u_i, with
 * the slopes taken as central differences over ±u_i, so that mild curvature is accounted for.
 *
 * @returns NaN where f is not finite at or beside the inputs
 */
export function propagate(
  f: (x: readonly number[]) => number,
  inputs: readonly UncertainInput[],
): number {
  const x = inputs.map((input) => input.value);
  let square = 0;
  inputs.forEach((input, i) => {
    if (input.u === 0) return;
    x[i] = input.value + input.u;
    const up = f(x);
    x[i] = input.value - input.u;
    const down = f(x);
    x[i] = input.value;
    square += ((up - down) / 2) ** 2;
  });
  return Math.sqrt(square);
}

/** Two-sided 95 % quantiles of Student's t for 1 to 30 degrees of freedom (standard tables). */
const T95 = [
  12.706, 4.303, 3.182, 2.776, 2.571, 2.447, 2.365, 2.306, 2.262, 2.228, 2.201, 2.179, 2.16, 2.145,
  2.131, 2.12, 2.11, 2.101, 2.093, 2.086, 2.08, 2.074, 2.069, 2.064, 2.06, 2.056, 2.052, 2.048,
  2.045, 2.042,
];

/** Two-sided 95 % quantile of Student's t; 12.706 for one degree of freedom, 1.96 for many. */
export function studentT95(degreesOfFreedom: number): number {
  if (degreesOfFreedom < 1) return Infinity;
  return T95[Math.floor(degreesOfFreedom) - 1] ?? 1.96 + 2.42 / degreesOfFreedom;
}
