import { useState, type ReactNode, type SyntheticEvent } from 'react';
import { newUnit } from '../../core/record/job.ts';
import { Dialog } from '../app/Dialog.tsx';
import { put } from '../store/store.ts';
import { useCommand, useServices, useUnits } from '../store/context.ts';
import { EMPTY_HEAD, headOfDraft } from './head-draft.ts';
import { HeadFields } from './HeadFields.tsx';
import { FormFoot } from './UnitDialog.tsx';
import { unitDraft, unitOfDraft, type DraftErrors } from './unit-draft.ts';
import { UnitFields } from './UnitFields.tsx';

const FIRST = newUnit('A');

/** Makes a new job with its first unit; more units are added in the record. */
export function CreateJob({ onClose }: { readonly onClose: () => void }): ReactNode {
  const [system] = useState(useUnits());
  const [head, setHead] = useState(EMPTY_HEAD);
  const [unit, setUnit] = useState(() => unitDraft(FIRST, system));
  const [errors, setErrors] = useState<DraftErrors>({});
  const command = useCommand();
  const { store } = useServices();
  const submit = async (event: SyntheticEvent) => {
    event.preventDefault();
    const readHead = headOfDraft(head, system);
    const readUnit = unitOfDraft(unit, FIRST, system);
    if ('errors' in readHead || 'errors' in readUnit) {
      setErrors({
        ...('errors' in readHead ? readHead.errors : {}),
        ...('errors' in readUnit ? readUnit.errors : {}),
      });
      return;
    }
    setErrors({});
    const job = await command('job.create', { ...readHead.head, units: [readUnit.unit] });
    if (job === null) return;
    put(store, { job });
    onClose();
  };
  return (
    <Dialog title="New job" onClose={onClose}>
      <form className="form" noValidate onSubmit={(event) => void submit(event)}>
        <HeadFields draft={head} errors={errors} system={system} onChange={setHead} />
        <h3>The first unit</h3>
        <UnitFields
          draft={unit}
          errors={errors}
          system={system}
          keyFixed={false}
          onChange={setUnit}
        />
        <FormFoot errors={errors} action="Create job" />
      </form>
    </Dialog>
  );
}
