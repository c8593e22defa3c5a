import { differencesOf, type Difference } from '../diagnosis/differences.ts';
import type { Conditions } from '../diagnosis/conditions.ts';
import { conclude, tempered, weigh, INDEPENDENCE, type Diagnosis } from '../diagnosis/diagnose.ts';
import type { Evidence } from '../diagnosis/evidence.ts';
import { expectationsFor } from '../diagnosis/expectations.ts';
import { classFit, pairFit, type WeighedFit } from '../diagnosis/likelihood.ts';
import { signTable } from '../diagnosis/signs.ts';
import { bySuspect, normalised, SUSPECT_KEYS, updated } from '../diagnosis/suspects.ts';
import type { FeatureKey, JudgementInput, Target, VerdictRow } from '../diagnosis/types.ts';

/** A unit as it was read: what its likes are held against. */
export interface ReadUnit {
  /** What it is called: 'Unit A'. */
  readonly label: string;
  readonly input: JudgementInput;
  readonly conditions: Conditions;
  readonly targets: readonly Target[];
  readonly verdicts: readonly VerdictRow[];
  /** False where something forbids reading its figures. */
  readonly readable: boolean;
}

/** Two units against each other: the first minus the second. */
export interface UnitPair {
  readonly first: string;
  readonly second: string;
  /** Why these two are not compared; null where they are. */
  readonly unlike: 'refrigerant' | 'metering' | 'mode' | 'notReadable' | null;
  readonly differences: readonly Difference[];
  /** Whether weather and return air were measured at both; else they are taken as equal. */
  readonly conditionsKnown: boolean;
}

/** The differences of two units, where they are like units and both can be read. */
export function pairOf(first: ReadUnit, second: ReadUnit): UnitPair {
  const unlike = unlikeness(first, second);
  const { differences, conditionsKnown } =
    unlike === null
      ? differencesOf(first.input, second.input)
      : { differences: [], conditionsKnown: false };
  return { first: first.label, second: second.label, unlike, differences, conditionsKnown };
}

function unlikeness(first: ReadUnit, second: ReadUnit): UnitPair['unlike'] {
  const [a, b] = [first.input.config, second.input.config];
  if (a.refrigerant !== b.refrigerant) return 'refrigerant';
  if (a.metering !== b.metering) return 'metering';
  if (a.mode !== b.mode) return 'mode';
  return first.readable && second.readable ? null : 'notReadable';
}

function fitsOf(differences: readonly Difference[]): WeighedFit[] {
  return differences
    .filter((d) => d.counts)
    .map((d) => ({
      feature: d.feature,
      fit: classFit({ feature: d.feature, value: d.scaled.value, sd: d.scaled.sd }),
      weight: 1,
    }));
}

/** The differences of a pair seen from one of its units. */
function seenFrom(pair: UnitPair, label: string): readonly Difference[] {
  if (pair.first === label) return pair.differences;
  return pair.differences.map((d) => ({
    ...d,
    corrected: -d.corrected,
    scaled: { ...d.scaled, value: -d.scaled.value },
  }));
}

/** How much a unit's own residuals count beside the differences: the rule they share counts once. */
function weightsBeside({ input, conditions, targets }: ReadUnit, pairs: readonly UnitPair[]) {
  const compared = new Set(
    pairs.flatMap((p) => p.differences.filter((d) => d.counts)).map((d) => d.feature),
  );
  const expectations = expectationsFor(input, conditions, targets);
  return (feature: FeatureKey): number =>
    compared.has(feature) && expectations[feature]?.source === 'rule' ? 0.5 : 1;
}

function ownEvidence(unit: ReadUnit, pairs: readonly UnitPair[]) {
  const { input, conditions, targets, readable } = unit;
  return weigh(input, conditions, targets, readable, weightsBeside(unit, pairs));
}

/**
 * The suspects of one unit from its own readings and from its differences to the others, where any of
 * two may be the faulty one: the joint probability of a cause in each is taken, not one of them as
 * healthy.
 */
export function diagnosisBeside(
  unit: ReadUnit,
  others: readonly ReadUnit[],
  pairs: readonly UnitPair[],
): Diagnosis {
  const table = signTable(unit.input.config.metering, unit.input.config.mode);
  const mine = pairs.filter(
    (p) => p.unlike === null && (p.first === unit.label || p.second === unit.label),
  );
  const alone = ownEvidence(unit, mine);
  let posterior = alone.posterior;
  const pieces: Evidence[] = [...alone.pieces];
  for (const pair of mine) {
    const otherLabel = pair.first === unit.label ? pair.second : pair.first;
    const other = others.find(({ label }) => label === otherLabel);
    if (other === undefined) continue;
    const theirs = ownEvidence(other, [pair]).posterior;
    const differences = seenFrom(pair, unit.label);
    const likelihoodOf = (seen: readonly Difference[]) =>
      bySuspect((f) =>
        SUSPECT_KEYS.reduce(
          (sum, g) =>
            sum + (theirs[g] > 0 ? theirs[g] * pairFit(fitsOf(seen), table[f], table[g]) : 0),
          0,
        ),
      );
    posterior = updated(posterior, tempered(likelihoodOf(differences), INDEPENDENCE));
    for (const d of differences) {
      if (!d.counts) continue;
      const { feature, corrected: difference, u } = d;
      pieces.push({
        item: { kind: 'difference', feature, other: otherLabel, difference, u },
        likelihood: likelihoodOf([d]),
      });
    }
  }
  return conclude(
    { ...alone, compared: mine.length > 0, posterior: normalised(posterior), pieces },
    unit.input,
    unit.verdicts,
  );
}
