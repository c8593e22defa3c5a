import { differencesOf, type Difference } from '../diagnosis/differences.ts';
import { conclude, tempered, weigh, INDEPENDENCE, type Diagnosis } from '../diagnosis/diagnose.ts';
import type { Evidence } from '../diagnosis/evidence.ts';
import { expectationsFor } from '../diagnosis/expectations.ts';
import { classFit, pairFit, type WeighedFit } from '../diagnosis/likelihood.ts';
import { signTable } from '../diagnosis/signs.ts';
import { bySuspect, normalised, SUSPECT_KEYS, updated } from '../diagnosis/suspects.ts';
import type { FeatureKey, JudgementInput } from '../diagnosis/types.ts';
import { sideBySide, type SideRow } from '../diagnosis/side-by-side.ts';
import { judgeUnit, type JudgedUnit, type Judgement } from './running.ts';

/** One unit of a comparison. */
export interface ComparedInput {
  /** What it is called: 'Unit A'. */
  readonly label: string;
  readonly input: JudgementInput;
  /** Wall-clock time of the reading, s since any common origin; null where unknown. */
  readonly takenAt: number | null;
}

/** One unit after the comparison. */
export interface ComparedUnit {
  readonly label: string;
  readonly judgement: Judgement;
  /** The suspects after the other units have been looked at too. */
  readonly diagnosis: Diagnosis;
}

/** Two units against each other: the first minus the second. */
export interface ComparedPair {
  readonly first: string;
  readonly second: string;
  /** Why these two are not compared; null where they are. */
  readonly unlike: 'refrigerant' | 'metering' | 'mode' | 'notReadable' | null;
  readonly differences: readonly Difference[];
  /** Whether weather and return air were measured at both; else they are taken as equal. */
  readonly conditionsKnown: boolean;
  /** Seconds between the two readings; null where a time is unknown. */
  readonly apart: number | null;
}

/** Units side by side: values as read, differences corrected, suspects of each. Never an average. */
export interface Comparison {
  readonly units: readonly ComparedUnit[];
  readonly rows: readonly SideRow[];
  readonly pairs: readonly ComparedPair[];
}

/**
 * Compares two or more units channel by channel and figure by figure. Suspects of each unit follow
 * from its own readings and from its differences to the others, where any of the two may be the
 * faulty one: the joint probability of a cause in each is taken, not one of them as healthy.
 */
export function compare(inputs: readonly ComparedInput[]): Comparison {
  const judged = inputs.map((i) => judgeUnit(i.input));
  const pairs: ComparedPair[] = [];
  for (const [i, first] of inputs.entries()) {
    for (const [j, second] of inputs.entries()) {
      if (j > i) pairs.push(pairOf(first, second, judged[i], judged[j]));
    }
  }
  const units = inputs.map((unit, i): ComparedUnit => {
    const own = judged[i];
    if (own === undefined) throw new Error('unit without judgement');
    return {
      label: unit.label,
      judgement: own.judgement,
      diagnosis: jointDiagnosis(unit, inputs, judged, pairs),
    };
  });
  return { units, rows: sideBySide(inputs), pairs };
}

function pairOf(
  first: ComparedInput,
  second: ComparedInput,
  a: JudgedUnit | undefined,
  b: JudgedUnit | undefined,
): ComparedPair {
  const unlike = unlikeness(first, second, a, b);
  const { differences, conditionsKnown } =
    unlike === null
      ? differencesOf(first.input, second.input)
      : { differences: [], conditionsKnown: false };
  const apart =
    first.takenAt === null || second.takenAt === null
      ? null
      : Math.abs(first.takenAt - second.takenAt);
  return {
    first: first.label,
    second: second.label,
    unlike,
    differences,
    conditionsKnown,
    apart,
  };
}

function unlikeness(
  first: ComparedInput,
  second: ComparedInput,
  a: JudgedUnit | undefined,
  b: JudgedUnit | undefined,
): ComparedPair['unlike'] {
  if (first.input.config.refrigerant !== second.input.config.refrigerant) return 'refrigerant';
  if (first.input.config.metering !== second.input.config.metering) return 'metering';
  if (first.input.config.mode !== second.input.config.mode) return 'mode';
  return a?.readable === true && b?.readable === true ? null : 'notReadable';
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
function seenFrom(pair: ComparedPair, label: string): readonly Difference[] {
  if (pair.first === label) return pair.differences;
  return pair.differences.map((d) => ({
    ...d,
    corrected: -d.corrected,
    scaled: { ...d.scaled, value: -d.scaled.value },
  }));
}

/** How much a unit's own residuals count beside the differences: the rule they share counts once. */
function weightsBeside(input: JudgementInput, judged: JudgedUnit, pairs: readonly ComparedPair[]) {
  const compared = new Set(
    pairs.flatMap((p) => p.differences.filter((d) => d.counts)).map((d) => d.feature),
  );
  const expectations = expectationsFor(
    input,
    judged.judgement.conditions,
    judged.judgement.targets,
  );
  return (feature: FeatureKey): number =>
    compared.has(feature) && expectations[feature]?.source === 'rule' ? 0.5 : 1;
}

function jointDiagnosis(
  unit: ComparedInput,
  inputs: readonly ComparedInput[],
  judged: readonly JudgedUnit[],
  pairs: readonly ComparedPair[],
): Diagnosis {
  const table = signTable(unit.input.config.metering, unit.input.config.mode);
  const mine = pairs.filter(
    (p) => p.unlike === null && (p.first === unit.label || p.second === unit.label),
  );
  const own = judged[inputs.indexOf(unit)];
  if (own === undefined) throw new Error('unit without judgement');
  const alone = ownEvidence(unit.input, own, mine);
  let posterior = alone.posterior;
  const pieces: Evidence[] = [...alone.pieces];
  for (const pair of mine) {
    const otherLabel = pair.first === unit.label ? pair.second : pair.first;
    const at = inputs.findIndex((i) => i.label === otherLabel);
    const other = inputs[at];
    const otherJudged = judged[at];
    if (other === undefined || otherJudged === undefined) continue;
    const theirs = ownEvidence(other.input, otherJudged, [pair]).posterior;
    const differences = seenFrom(pair, unit.label);
    const joint = bySuspect((f) =>
      SUSPECT_KEYS.reduce(
        (sum, g) =>
          sum + (theirs[g] > 0 ? theirs[g] * pairFit(fitsOf(differences), table[f], table[g]) : 0),
        0,
      ),
    );
    posterior = updated(posterior, tempered(joint, INDEPENDENCE));
    for (const d of differences) {
      if (!d.counts) continue;
      pieces.push({
        item: {
          kind: 'difference',
          feature: d.feature,
          other: otherLabel,
          difference: d.corrected,
          u: d.u,
        },
        likelihood: bySuspect((f) =>
          SUSPECT_KEYS.reduce(
            (sum, g) =>
              sum + (theirs[g] > 0 ? theirs[g] * pairFit(fitsOf([d]), table[f], table[g]) : 0),
            0,
          ),
        ),
      });
    }
  }
  return conclude(
    { ...alone, posterior: normalised(posterior), pieces },
    unit.input,
    own.judgement.verdicts,
  );
}

function ownEvidence(input: JudgementInput, judged: JudgedUnit, pairs: readonly ComparedPair[]) {
  return weigh(
    input,
    judged.judgement.conditions,
    judged.judgement.targets,
    judged.readable,
    weightsBeside(input, judged, pairs),
  );
}
