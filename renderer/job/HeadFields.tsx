import type { ReactNode } from 'react';
import { TextField } from '../app/Field.tsx';
import type { UnitSystem } from '../app/format.ts';
import type { HeadDraft } from './head-draft.ts';
import type { DraftErrors } from './unit-draft.ts';

/** The fields of a job's head. */
export function HeadFields(p: {
  readonly draft: HeadDraft;
  readonly errors: DraftErrors;
  readonly system: UnitSystem;
  readonly onChange: (draft: HeadDraft) => void;
}): ReactNode {
  const { draft, errors } = p;
  const set = (field: keyof HeadDraft) => (value: string) =>
    p.onChange({ ...draft, [field]: value });
  return (
    <div className="fields">
      <TextField
        label="Title"
        value={draft.title}
        onChange={set('title')}
        error={errors['title']}
        hint="What a colleague would look for"
      />
      <TextField label="Site" value={draft.site} onChange={set('site')} error={errors['site']} />
      <TextField
        label="Address"
        value={draft.address}
        onChange={set('address')}
        error={errors['address']}
      />
      <TextField
        numeric
        label={p.system === 'us' ? 'Altitude, ft' : 'Altitude, m'}
        value={draft.altitude}
        onChange={set('altitude')}
        error={errors['altitude']}
        hint="Turns gauge into absolute pressure; empty: sea level is assumed, and marked"
      />
      <div className="wide">
        <TextField
          rows={3}
          label="Complaint"
          value={draft.complaint}
          onChange={set('complaint')}
          error={errors['complaint']}
        />
      </div>
    </div>
  );
}
