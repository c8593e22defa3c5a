import type { ReactNode } from 'react';
import { MAKERS_KEYS, makersRow, type MakersKey } from '../../core/diagnosis/maker.ts';
import { TextField } from '../app/Field.tsx';
import type { UnitSystem } from '../app/format.ts';
import {
  assumedTolerance,
  CONDITION_KEYS,
  conditionUnit,
  makerUnit,
  toleranceUnit,
  type ConditionKey,
  type MakerDraft,
  type MakerRowDraft,
} from './maker-draft.ts';
import type { DraftErrors } from './unit-draft.ts';

interface Props {
  readonly draft: MakerDraft;
  readonly errors: DraftErrors;
  readonly system: UnitSystem;
  readonly onChange: (draft: MakerDraft) => void;
}

const CONDITION_LABEL: Readonly<Record<ConditionKey, string>> = {
  outdoorAir: 'Outdoor air',
  returnAir: 'Return air, dry bulb',
  returnWetBulb: 'Return air, wet bulb',
};

/** What the maker's papers say the readings should be, and for which weather and room. */
export function MakerFields({ draft, errors, system, onChange }: Props): ReactNode {
  const set = (key: MakersKey, part: Partial<MakerRowDraft>) =>
    onChange({ ...draft, rows: { ...draft.rows, [key]: { ...draft.rows[key], ...part } } });
  const filled = Object.values(draft.rows).filter((row) => row.value !== '').length;
  return (
    <fieldset className="maker">
      <legend>Maker’s chart</legend>
      <details open={filled > 0}>
        <summary>
          Expected readings from the maker’s papers
          {filled > 0 && ` (${filled} typed in)`}
        </summary>
        <p className="field-hint">
          One line of the chart, for the mode above, as printed. The readings are then judged
          against it instead of the general rules of the trade. Where the paper names no tolerance
          leave it empty: the one in grey is taken.
        </p>
        <h4>The conditions of that line</h4>
        <p className="field-hint">Empty where the chart does not ask for one.</p>
        <div className="fields">
          {CONDITION_KEYS.map((key) => (
            <TextField
              key={key}
              label={`${CONDITION_LABEL[key]}, ${conditionUnit(system)}`}
              numeric
              value={draft.at[key]}
              error={errors[`maker.at.${key}`]}
              onChange={(value) => onChange({ ...draft, at: { ...draft.at, [key]: value } })}
            />
          ))}
        </div>
        <h4>What it says</h4>
        {MAKERS_KEYS.map((key) => (
          <Row
            key={key}
            label={makersRow(key).label}
            unit={makerUnit(key, system).text}
            widthUnit={toleranceUnit(key, system)}
            assumed={assumedTolerance(key, draft.rows[key].value, system)}
            row={draft.rows[key]}
            error={errors[`maker.${key}`]}
            onChange={(part) => set(key, part)}
          />
        ))}
      </details>
    </fieldset>
  );
}

function Row(p: {
  readonly label: string;
  readonly unit: string;
  readonly widthUnit: string;
  readonly assumed: string;
  readonly row: MakerRowDraft;
  readonly error: string | undefined;
  readonly onChange: (part: Partial<MakerRowDraft>) => void;
}): ReactNode {
  const { label, unit, widthUnit, row } = p;
  const invalid = p.error !== undefined;
  return (
    <div className="maker-row">
      <span className="label">{label}</span>
      <input
        aria-label={`${label}, ${unit}`}
        inputMode="decimal"
        aria-invalid={invalid}
        value={row.value}
        onChange={(event) => p.onChange({ value: event.target.value })}
      />
      <span>{unit} ±</span>
      <input
        aria-label={`${label}: tolerance, ${widthUnit}`}
        inputMode="decimal"
        aria-invalid={invalid}
        placeholder={p.assumed}
        value={row.tolerance}
        onChange={(event) => p.onChange({ tolerance: event.target.value })}
      />
      <span>{widthUnit}</span>
      {p.error !== undefined && (
        <span className="field-error" role="alert">
          {p.error}
        </span>
      )}
    </div>
  );
}
