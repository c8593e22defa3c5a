import { useState, type ReactNode, type SyntheticEvent } from 'react';
import type { JobHead } from '../../core/record/job.ts';
import { Dialog } from '../app/Dialog.tsx';
import { useCommand, useUnits } from '../store/context.ts';
import { headDraft, headOfDraft } from './head-draft.ts';
import { HeadFields } from './HeadFields.tsx';
import { FormFoot } from './UnitDialog.tsx';
import type { DraftErrors } from './unit-draft.ts';

/** Changes the head of the open job. */
export function HeadDialog(p: { readonly head: JobHead; readonly onClose: () => void }): ReactNode {
  const [system] = useState(useUnits());
  const [draft, setDraft] = useState(() => headDraft(p.head, system));
  const [errors, setErrors] = useState<DraftErrors>({});
  const command = useCommand();
  const submit = async (event: SyntheticEvent) => {
    event.preventDefault();
    const read = headOfDraft(draft, system);
    setErrors('errors' in read ? read.errors : {});
    if ('errors' in read) return;
    if ((await command('job.update', read.head)) !== null) p.onClose();
  };
  return (
    <Dialog title="Job" onClose={p.onClose}>
      <form className="form" noValidate onSubmit={(event) => void submit(event)}>
        <HeadFields draft={draft} errors={errors} system={system} onChange={setDraft} />
        <FormFoot errors={errors} action="Save job" />
      </form>
    </Dialog>
  );
}
