import { useState, type ReactNode, type SyntheticEvent } from 'react';
import type { Unit } from '../../core/record/job.ts';
import { Dialog } from '../app/Dialog.tsx';
import { useCommand, useUnits } from '../store/context.ts';
import { UnitFields } from './UnitFields.tsx';
import { unitDraft, unitOfDraft, type DraftErrors } from './unit-draft.ts';

/** Describes a unit of the open job, new or known. */
export function UnitDialog(p: {
  readonly unit: Unit;
  readonly known: boolean;
  readonly onClose: () => void;
}): ReactNode {
  // The units of the form stay those it was opened in, whatever is switched meanwhile.
  const [system] = useState(useUnits());
  const [draft, setDraft] = useState(() => unitDraft(p.unit, system));
  const [errors, setErrors] = useState<DraftErrors>({});
  const command = useCommand();
  const submit = async (event: SyntheticEvent) => {
    event.preventDefault();
    const read = unitOfDraft(draft, p.unit, system);
    setErrors('errors' in read ? read.errors : {});
    if ('errors' in read) return;
    if ((await command('unit.save', { unit: read.unit })) !== null) p.onClose();
  };
  return (
    <Dialog title={p.known ? `Unit ${p.unit.key}` : 'New unit'} onClose={p.onClose}>
      <form className="form" noValidate onSubmit={(event) => void submit(event)}>
        <UnitFields
          draft={draft}
          errors={errors}
          system={system}
          keyFixed={p.known}
          onChange={setDraft}
        />
        <FormFoot errors={errors} action="Save unit" />
      </form>
    </Dialog>
  );
}

/** The end of a form: what is wrong altogether, and the button. */
export function FormFoot(p: { readonly errors: DraftErrors; readonly action: string }): ReactNode {
  const count = Object.keys(p.errors).length;
  return (
    <footer className="form-foot">
      <p role="status">
        {count === 0 ? '' : `${count === 1 ? 'One field needs' : `${count} fields need`} a look.`}
      </p>
      <button type="submit" className="primary">
        {p.action}
      </button>
    </footer>
  );
}
