import { useState, type ReactNode, type SyntheticEvent } from 'react';
import { METERING_KINDS } from '../../core/circuit/types.ts';
import type { EngineConfig } from '../../core/engine-types.ts';
import { REFRIGERANT_IDS } from '../../core/refrigerant/types.ts';
import { CHANNEL_KEYS, channelRow } from '../../core/stream/channels.ts';
import type { Recomputed } from '../../electron/bridge/views.ts';
import { Dialog } from '../app/Dialog.tsx';
import { SelectField, TextField } from '../app/Field.tsx';
import { channelDifferenceUnit, clockText } from '../app/format.ts';
import { METERING_TEXT } from '../../core/circuit/metering-text.ts';
import { useApp, useCommand, useConfig, useEngine, useUnits } from '../store/context.ts';
import { assumed, assumptionDraft } from './assumptions.ts';
import { Comparison } from './Comparison.tsx';

/** The same samples with other assumptions, beside the numbers as recorded. */
export function RecomputeDialog({ onClose }: { readonly onClose: () => void }): ReactNode {
  const units = useApp((s) => (s.review?.units ?? []).map((u) => u.unit).join(' ')).split(' ');
  const [unit, setUnit] = useState(units[0] ?? '');
  const config = useConfig('review', unit);
  const position = useApp((s) => s.review?.playback?.position ?? 0);
  return (
    <Dialog title="What if it was otherwise?" onClose={onClose}>
      <div className="recompute">
        <p>
          The samples up to <b>{clockText(position)}</b> are computed again with what you change
          here. The record stays as it is.
        </p>
        {units.length > 1 && (
          <SelectField
            label="Unit"
            value={unit}
            options={units.map((key) => [key, key] as const)}
            onChange={setUnit}
          />
        )}
        {config !== null && <Form key={unit} unit={unit} config={config} />}
      </div>
    </Dialog>
  );
}

interface Pair {
  readonly before: Recomputed;
  readonly after: Recomputed;
}

function Form({
  unit,
  config,
}: {
  readonly unit: string;
  readonly config: EngineConfig;
}): ReactNode {
  const [system] = useState(useUnits());
  const command = useCommand();
  const [draft, setDraft] = useState(() => assumptionDraft(config));
  const [errors, setErrors] = useState<Readonly<Record<string, string>>>({});
  const [pair, setPair] = useState<Pair | null>(null);
  const submit = async (event: SyntheticEvent) => {
    event.preventDefault();
    const read = assumed(draft, config, system);
    setErrors('errors' in read ? read.errors : {});
    if ('errors' in read) return;
    const before = await command('review.recompute', { unit, config });
    const after = await command('review.recompute', { unit, config: read.config });
    if (before !== null && after !== null) setPair({ before, after });
  };
  return (
    <form className="form" noValidate onSubmit={(event) => void submit(event)}>
      <div className="fields">
        <SelectField
          label="Refrigerant"
          value={draft.refrigerant}
          options={REFRIGERANT_IDS.map((id) => [id, id] as const)}
          onChange={(refrigerant) => setDraft({ ...draft, refrigerant })}
        />
        <SelectField
          label="Metering device"
          value={draft.metering}
          options={METERING_KINDS.map((kind) => [kind, METERING_TEXT[kind]] as const)}
          onChange={(metering) => setDraft({ ...draft, metering })}
        />
        <TextField
          numeric
          label={system === 'us' ? 'Altitude, ft' : 'Altitude, m'}
          hint="Empty: as recorded"
          value={draft.altitude}
          error={errors['altitude']}
          onChange={(altitude) => setDraft({ ...draft, altitude })}
        />
      </div>
      <Offsets
        unit={unit}
        values={draft.offsets}
        errors={errors}
        onChange={(offsets) => setDraft({ ...draft, offsets })}
      />
      <div>
        <button type="submit" className="primary">
          Compute again
        </button>
      </div>
      {pair !== null && <Comparison before={pair.before} after={pair.after} mode={config.mode} />}
    </form>
  );
}

function Offsets(p: {
  readonly unit: string;
  readonly values: Readonly<Record<string, string>>;
  readonly errors: Readonly<Record<string, string>>;
  readonly onChange: (values: Readonly<Record<string, string>>) => void;
}): ReactNode {
  const system = useUnits();
  const list = useEngine('review', p.unit, (s) =>
    CHANNEL_KEYS.filter((key) => s.channels[key] !== undefined).join(' '),
  );
  const present = new Set((list ?? '').split(' '));
  return (
    <fieldset>
      <legend>Corrections added to sensors</legend>
      <div className="fields">
        {CHANNEL_KEYS.filter((key) => present.has(key)).map((key) => {
          return (
            <TextField
              key={key}
              numeric
              label={`${channelRow(key).label}, ${channelDifferenceUnit(key, system)}`}
              value={p.values[key] ?? ''}
              error={p.errors[key]}
              onChange={(value) => p.onChange({ ...p.values, [key]: value })}
            />
          );
        })}
      </div>
    </fieldset>
  );
}
