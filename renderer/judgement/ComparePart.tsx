import { useState, type ReactNode } from 'react';
import { compare } from '../../core/checks/compare.ts';
import { pairText, unitText } from '../../core/diagnosis/compare-text.ts';
import type { JudgementInput } from '../../core/diagnosis/types.ts';
import type { SnapshotRecord } from '../../core/record/snapshot.ts';
import type { JobView } from '../../electron/bridge/views.ts';
import { dateText } from '../app/format.ts';
import { useApp, useUnits } from '../store/context.ts';
import { inputFor, type Asked } from './asked.ts';

interface Props {
  readonly unit: string;
  readonly input: JudgementInput;
}

/** Its like beside it: choose a snapshot of another unit and read what the difference points to. */
export function ComparePart({ unit, input }: Props): ReactNode {
  const system = useUnits();
  const job = useApp((s) => s.job);
  const [chosen, setChosen] = useState('');
  const others = (job?.snapshots ?? []).filter((s) => s.unit !== unit);
  if (others.length === 0) {
    return (
      <section aria-label="Side by side">
        <h3>Side by side</h3>
        <p className="muted">
          With a snapshot of a like unit in this job the two can be compared, corrected for their
          conditions.
        </p>
      </section>
    );
  }
  const other = others.find((s) => s.id === chosen);
  return (
    <section aria-label="Side by side">
      <h3>Side by side</h3>
      <div className="field">
        <label htmlFor="compare-with">Compare with</label>
        <select id="compare-with" value={chosen} onChange={(e) => setChosen(e.target.value)}>
          <option value="">choose a snapshot of another unit</option>
          {others.map((s) => (
            <option key={s.id} value={s.id}>
              {s.unit}: {s.label}, {dateText(s.takenAt)}
            </option>
          ))}
        </select>
      </div>
      {other !== undefined && job !== null && (
        <ul className="compare-lines">
          {linesOf(unit, input, other, job.units, job.findings, system).map((line) => (
            <li key={line}>{line}</li>
          ))}
        </ul>
      )}
    </section>
  );
}

function linesOf(
  unit: string,
  input: JudgementInput,
  other: SnapshotRecord,
  units: JobView['units'],
  findings: JobView['findings'],
  system: 'us' | 'si',
): string[] {
  const asked: Asked = {
    standard: input.standard,
    chart: input.superheatChart,
    airflow: 'unknown',
    flow: null,
    heatPump: input.heatPump,
    stoodStill: true,
    chargeWeighed: false,
    outcomes: [],
    baseline: null,
  };
  const theirs = inputFor(
    { config: other.config, state: null, snapshot: other, pattern: null },
    asked,
    units.find((u) => u.key === other.unit) ?? null,
    findings,
    [],
  );
  if (theirs === null) return [];
  const result = compare([
    { label: `Unit ${unit}`, input, takenAt: null },
    { label: `Unit ${other.unit}`, input: theirs, takenAt: null },
  ]);
  return [
    ...result.pairs.flatMap((pair) => pairText(pair, input.config.mode, system)),
    ...result.units.map((u) => unitText(u, system)),
  ];
}
