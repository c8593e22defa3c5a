import { useState, type ReactNode } from 'react';
import { compare, type ComparedPair } from '../../core/checks/compare.ts';
import {
  differenceParts,
  pairNotes,
  patternText,
  unitText,
} from '../../core/diagnosis/compare-text.ts';
import type { Mode } from '../../core/circuit/types.ts';
import type { JudgementInput } from '../../core/diagnosis/types.ts';
import { unbroken } from '../app/unbroken.ts';
import type { UnitSystem } from '../app/format.ts';
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
  return (
    <>
      {result.pairs.map((pair) => (
        <Pair key={pair.second} pair={pair} mode={input.config.mode} system={system} />
      ))}
      <ul className="compare-lines">
        {result.units.map((one) => (
          <li key={one.label}>{unitText(one, system)}</li>
        ))}
      </ul>
    </>
  );
}

interface PairProps {
  readonly pair: ComparedPair;
  readonly mode: Mode;
  readonly system: UnitSystem;
}

/** One pair: what was assumed, figure beside figure, and what the difference points to. */
function Pair({ pair, mode, system }: PairProps): ReactNode {
  const pattern = patternText(pair, mode);
  return (
    <>
      {pairNotes(pair, system).map((note) => (
        <p key={note} className="compare-note">
          {note}
        </p>
      ))}
      {pair.unlike === null && <PairTable pair={pair} mode={mode} system={system} />}
      {pattern !== null && <p className="compare-pattern">{pattern}</p>}
    </>
  );
}

function PairTable({ pair, mode, system }: PairProps): ReactNode {
  const rows = pair.differences.map((difference) => differenceParts(difference, mode, system));
  return (
    <table className="compare-table">
      <thead>
        <tr>
          <td />
          <th scope="col" className="number">
            {pair.first}
          </th>
          <th scope="col" className="number">
            {pair.second}
          </th>
          <th scope="col">{pair.first} is</th>
        </tr>
      </thead>
      <tbody>
        {rows.map((row) => (
          <tr key={row.label} data-side={row.side}>
            <th scope="row">{row.label}</th>
            <td className="number">{row.first}</td>
            <td className="number">{row.second}</td>
            <td>
              {row.side === 'unclear' ? (
                <>no clear difference ({unbroken(row.difference)})</>
              ) : (
                <>
                  <b>{row.side}</b> by {unbroken(row.difference)}
                </>
              )}
              {row.correction !== null && (
                <small>corrected by {unbroken(row.correction)} for the different conditions</small>
              )}
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
