import type { ReactNode } from 'react';
import { METERING_KINDS, MODES } from '../../core/circuit/types.ts';
import { REFRIGERANT_IDS } from '../../core/refrigerant/types.ts';
import { SelectField, TextField } from '../app/Field.tsx';
import { differenceUnit, type UnitSystem } from '../app/format.ts';
import { METERING_TEXT } from '../../core/circuit/metering-text.ts';
import { MODE_TEXT } from '../app/text.ts';
import { AccuracyFields } from './AccuracyFields.tsx';
import { MakerFields } from './MakerFields.tsx';
import type { DraftErrors, UnitDraft } from './unit-draft.ts';

interface Props {
  readonly draft: UnitDraft;
  readonly errors: DraftErrors;
  readonly system: UnitSystem;
  /** The key names the unit in every session: it cannot change later. */
  readonly keyFixed: boolean;
  readonly onChange: (draft: UnitDraft) => void;
}

const REFRIGERANTS = REFRIGERANT_IDS.map((id) => [id, id] as const);
const METERINGS = METERING_KINDS.map((kind) => [kind, METERING_TEXT[kind]] as const);
const MODE_OPTIONS = MODES.map((mode) => [mode, MODE_TEXT[mode]] as const);

/** The fields of a unit: what it is, its nameplate, its maker's chart, its sensors. */
export function UnitFields({ draft, errors, system, keyFixed, onChange }: Props): ReactNode {
  const text = (
    field: Exclude<keyof UnitDraft, 'accuracy' | 'maker'>,
    label: string,
    more = {},
  ) => (
    <TextField
      label={label}
      value={draft[field]}
      error={errors[field]}
      onChange={(value) => onChange({ ...draft, [field]: value })}
      {...more}
    />
  );
  const select = (
    field: 'refrigerant' | 'metering' | 'mode',
    label: string,
    options: readonly (readonly [string, string])[],
  ) => (
    <SelectField
      label={label}
      value={draft[field]}
      options={options}
      error={errors[field]}
      onChange={(value) => onChange({ ...draft, [field]: value })}
    />
  );
  const difference = differenceUnit(system);
  const number = { numeric: true };
  return (
    <>
      <div className="fields">
        {text('key', 'Short key', { disabled: keyFixed, hint: 'A, B, C2: names it everywhere' })}
        {text('name', 'Name', { hint: 'Where it stands, whom it serves' })}
        {select('refrigerant', 'Refrigerant', REFRIGERANTS)}
        {select('metering', 'Metering device', METERINGS)}
        {select('mode', 'Mode', MODE_OPTIONS)}
        {text('minimumRun', 'Minimum run time, min', {
          ...number,
          hint: 'Never called still before this',
        })}
      </div>
      <fieldset>
        <legend>Nameplate</legend>
        <div className="fields">
          {text('targetSubcooling', `Target subcooling, ${difference}`, number)}
          {text('targetSuperheat', `Target superheat, ${difference}`, number)}
          {text('charge', system === 'us' ? 'Charge, lb' : 'Charge, kg', number)}
          {text('capacity', system === 'us' ? 'Capacity, kBtu/h' : 'Capacity, kW', number)}
          {text(
            'displacement',
            system === 'us' ? 'Compressor displacement, cfm' : 'Compressor displacement, m³/h',
            { ...number, hint: 'Swept volume in time, from its data sheet' },
          )}
          {text('outdoorModel', 'Outdoor model')}
          {text('outdoorSerial', 'Outdoor serial number')}
          {text('indoorModel', 'Indoor model')}
          {text('indoorSerial', 'Indoor serial number')}
        </div>
      </fieldset>
      <MakerFields
        draft={draft.maker}
        errors={errors}
        system={system}
        onChange={(maker) => onChange({ ...draft, maker })}
      />
      <AccuracyFields draft={draft} errors={errors} system={system} onChange={onChange} />
    </>
  );
}
