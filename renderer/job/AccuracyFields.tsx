import type { ReactNode } from 'react';
import { channelRow } from '../../core/stream/channels.ts';
import type { UnitSystem } from '../app/format.ts';
import {
  ACCURACY_KINDS,
  ACCURACY_TEXT,
  accuracyUnit,
  type AccuracyDraft,
  type AccuracyKind,
} from './accuracy-draft.ts';
import { DESCRIBED_CHANNELS, type DraftErrors, type UnitDraft } from './unit-draft.ts';

interface Props {
  readonly draft: UnitDraft;
  readonly errors: DraftErrors;
  readonly system: UnitSystem;
  readonly onChange: (draft: UnitDraft) => void;
}

/** How well each sensor measures, as its maker states it; ± on the screens comes from here. */
export function AccuracyFields({ draft, errors, system, onChange }: Props): ReactNode {
  return (
    <fieldset className="accuracy">
      <legend>Accuracy of the sensors</legend>
      <p className="field-hint">
        As the makers state it. Where nothing is stated a cautious value is assumed, and readings
        are marked so.
      </p>
      {DESCRIBED_CHANNELS.map((key) => {
        const row = draft.accuracy[key];
        if (row === undefined) return null;
        const set = (part: Partial<AccuracyDraft>) =>
          onChange({ ...draft, accuracy: { ...draft.accuracy, [key]: { ...row, ...part } } });
        return (
          <Row
            key={key}
            label={channelRow(key).label}
            unit={accuracyUnit(key, system)}
            row={row}
            error={errors[key]}
            onChange={set}
          />
        );
      })}
    </fieldset>
  );
}

function Row(p: {
  readonly label: string;
  readonly unit: string;
  readonly row: AccuracyDraft;
  readonly error: string | undefined;
  readonly onChange: (part: Partial<AccuracyDraft>) => void;
}): ReactNode {
  const { label, row, unit } = p;
  const typed = row.kind !== 'assumed' && row.kind !== 'other';
  const kinds = ACCURACY_KINDS.filter((kind) => kind !== 'other' || row.kind === 'other');
  return (
    <div className="accuracy-row">
      <span className="label">{label}</span>
      <select
        aria-label={`${label}: kind of accuracy`}
        value={row.kind}
        onChange={(event) => p.onChange({ kind: event.target.value as AccuracyKind })}
      >
        {kinds.map((kind) => (
          <option key={kind} value={kind}>
            {ACCURACY_TEXT[kind]}
          </option>
        ))}
      </select>
      {typed && (
        <input
          aria-label={`${label}: ± ${row.kind === 'absolute' ? unit : '%'}`}
          inputMode="decimal"
          aria-invalid={p.error !== undefined}
          value={row.amount}
          onChange={(event) => p.onChange({ amount: event.target.value })}
        />
      )}
      {typed && <span>{row.kind === 'absolute' ? unit : '%'}</span>}
      {row.kind === 'ofFullScale' && (
        <>
          <span>of</span>
          <input
            aria-label={`${label}: full scale, ${unit}`}
            inputMode="decimal"
            aria-invalid={p.error !== undefined}
            value={row.fullScale}
            onChange={(event) => p.onChange({ fullScale: event.target.value })}
          />
          <span>{unit}</span>
        </>
      )}
      {p.error !== undefined && (
        <span className="field-error" role="alert">
          {p.error}
        </span>
      )}
    </div>
  );
}
