import { useState, type ReactNode } from 'react';
import { compare } from '../../core/checks/compare.ts';
import { pairText, unitText } from '../../core/diagnosis/compare-text.ts';
import type { JudgementInput } from '../../core/diagnosis/types.ts';
import { useApp, useJobUnit, useUnits } from '../store/context.ts';
import { inputFor } from './asked.ts';
import type { Reference } from './references.ts';
import { useAsked } from './use-asked.ts';

interface Props {
  readonly unit: string;
  readonly input: JudgementInput;
  /** When the readings were taken, s; null where unknown. */
  readonly takenAt: number | null;
  /** Like units, now or in the record. */
  readonly others: readonly Reference[];
}

/** Its like beside it: choose readings of another unit and read what the difference points to. */
export function ComparePart({ unit, input, takenAt, others }: Props): ReactNode {
  const [chosen, setChosen] = useState('');
  if (others.length === 0) {
    return (
      <section aria-label="Side by side">
        <h3>Side by side</h3>
        <p className="muted">
          With a snapshot of a like unit in this job, or a like unit watched at the same time, the
          two can be compared, corrected for their conditions.
        </p>
      </section>
    );
  }
  const other = others.find((reference) => reference.id === chosen);
  return (
    <section aria-label="Side by side">
      <h3>Side by side</h3>
      <div className="field">
        <label htmlFor="compare-with">Compare with</label>
        <select id="compare-with" value={chosen} onChange={(e) => setChosen(e.target.value)}>
          <option value="">choose readings of another unit</option>
          {others.map(({ id, text }) => (
            <option key={id} value={id}>
              {text}
            </option>
          ))}
        </select>
      </div>
      {other !== undefined && (
        <Compared unit={unit} input={input} takenAt={takenAt} other={other} />
      )}
    </section>
  );
}

/** What the difference between the two says. */
function Compared(p: Omit<Props, 'others'> & { readonly other: Reference }): ReactNode {
  const system = useUnits();
  const { unit, input, takenAt, other } = p;
  const theirUnit = useJobUnit(other.unit);
  const findings = useApp((s) => s.job?.findings);
  const [told] = useAsked(other.unit, other.config.mode === 'heating');
  const theirs = inputFor(
    {
      config: other.config,
      state: null,
      snapshot: { id: other.id, label: other.text, content: other.content },
      session: other.session,
      pattern: null,
      stood: null,
    },
    // Its own readings are what is compared: no reference of one unit speaks for the other.
    { ...told, baseline: null, twin: null },
    theirUnit,
    findings ?? [],
    [],
  );
  if (theirs === null) return null;
  const result = compare([
    { label: `Unit ${unit}`, input: { ...input, twin: null }, takenAt },
    { label: `Unit ${other.unit}`, input: theirs, takenAt: other.takenAt },
  ]);
  const lines = [
    ...result.pairs.flatMap((pair) => pairText(pair, input.config.mode, system)),
    ...result.units.map((one) => unitText(one, system)),
  ];
  return (
    <ul className="compare-lines">
      {lines.map((line) => (
        <li key={line}>{line}</li>
      ))}
    </ul>
  );
}
