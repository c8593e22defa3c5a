import { normalBelow } from '../steadiness/normal.ts';
import { conditionsOf } from './conditions.ts';
import { correction, unlikeness, type Correction } from './expectations.ts';
import { featuresOf } from './features.ts';
import { FEATURE_KEYS, type FeatureKey, type JudgementInput, type Uncertain } from './types.ts';

/** One feature of two units against each other: the first minus the second. SI, k = 2. */
export interface Difference {
  readonly feature: FeatureKey;
  readonly first: Uncertain;
  readonly second: Uncertain;
  /** As read. */
  readonly plain: number;
  /** What the different conditions make of it (added to the second unit's reading). */
  readonly correction: Correction;
  /** Plain minus correction. */
  readonly corrected: number;
  /** Of the corrected difference: both readings, the correction, and how like units differ. */
  readonly u: number;
  /** Probability that the units differ in this direction beyond what like units do. */
  readonly probability: number;
  /** Value and standard uncertainty on the scale of the sign tables. */
  readonly scaled: { readonly value: number; readonly sd: number };
  /** Amperes of machines at different pressures are shown but do not count. */
  readonly counts: boolean;
}

/** Half of what counts as the same pressures for comparing amperes, K of saturation. */
const SAME_PRESSURES_K = 2;

/** The differences of two like units, corrected for their conditions. */
export function differencesOf(
  first: JudgementInput,
  second: JudgementInput,
): { readonly differences: readonly Difference[]; readonly conditionsKnown: boolean } {
  const here = conditionsOf(first.content, first.config);
  const there = conditionsOf(second.content, second.config);
  const a = featuresOf(first.content, first.config);
  const b = featuresOf(second.content, second.config);
  const differences: Difference[] = [];
  let conditionsKnown = true;
  for (const feature of FEATURE_KEYS) {
    const x = a[feature];
    const y = b[feature];
    if (x === undefined || y === undefined) continue;
    const moved = correction(feature, y.value, first.config, there, here);
    if (!moved.complete) conditionsKnown = false;
    const plain = x.value - y.value;
    const corrected = plain - moved.value;
    const u = Math.hypot(x.u, y.u, moved.u, unlikeness(feature, y));
    const scale = feature === 'current' ? y.value : 1;
    differences.push({
      feature,
      first: { value: x.value, u: x.u },
      second: { value: y.value, u: y.u },
      plain,
      correction: moved,
      corrected,
      u,
      probability: normalBelow(Math.abs(corrected) / (u / 2)),
      scaled: { value: corrected / scale, sd: Math.max(u / 2 / scale, 1e-6) },
      counts: feature !== 'current' || samePressures(differences),
    });
  }
  return { differences, conditionsKnown };
}

function samePressures(differences: readonly Difference[]): boolean {
  return (['evaporating', 'condensing'] as const).every((feature) => {
    const found = differences.find((d) => d.feature === feature);
    return found !== undefined && Math.abs(found.plain) < SAME_PRESSURES_K;
  });
}
