import type { Diagnosis } from '../diagnosis/diagnose.ts';
import { sideBySide, type SideRow } from '../diagnosis/side-by-side.ts';
import type { JudgementInput } from '../diagnosis/types.ts';
import { diagnosisBeside, pairOf, type UnitPair } from './beside.ts';
import { concluded, judgeUnit, readUnit, type Judgement } from './running.ts';

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
export interface ComparedPair extends UnitPair {
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
 * from its own readings and from its differences to the others ({@link diagnosisBeside}); a unit that
 * is judged beside its like by itself comes to the same.
 */
export function compare(inputs: readonly ComparedInput[]): Comparison {
  const units = inputs.map(({ label, input }) => {
    const { judgement, readable } = judgeUnit(input);
    return { judgement, read: readUnit(label, input, judgement, readable) };
  });
  const pairs = units.flatMap((first, i) =>
    units.slice(i + 1).map((second, k): ComparedPair => {
      const [a, b] = [inputs[i]?.takenAt ?? null, inputs[i + 1 + k]?.takenAt ?? null];
      const apart = a === null || b === null ? null : Math.abs(a - b);
      return { ...pairOf(first.read, second.read), apart };
    }),
  );
  const all = units.map(({ read }) => read);
  return {
    units: units.map(({ judgement, read }): ComparedUnit => {
      const both = concluded(judgement, read.input, diagnosisBeside(read, all, pairs));
      return { label: read.label, judgement: both, diagnosis: both.diagnosis };
    }),
    rows: sideBySide(inputs),
    pairs,
  };
}
