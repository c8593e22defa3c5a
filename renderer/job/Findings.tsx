import { useState, type ReactNode, type SyntheticEvent } from 'react';
import { FINDING_KINDS, type Finding } from '../../core/record/job.ts';
import { SelectField, TextField } from '../app/Field.tsx';
import { dateText } from '../app/format.ts';
import { FINDING_TEXT } from '../app/text.ts';
import { put } from '../store/store.ts';
import { useApp, useCommand, useServices } from '../store/context.ts';

const NONE: readonly Finding[] = [];
const KINDS = FINDING_KINDS.map((kind) => [kind, FINDING_TEXT[kind]] as const);
type Kind = (typeof FINDING_KINDS)[number];

/** What a person saw or measured by hand. */
export function Findings(): ReactNode {
  const findings = useApp((s) => s.job?.findings ?? NONE);
  return (
    <section className="sheet" aria-label="Findings">
      <header className="sheet-head">
        <h2>Found</h2>
      </header>
      <ul className="entries">
        {findings.map((finding) => (
          <li key={finding.id}>
            <p>
              {finding.unit !== null && <span className="unit-key">{finding.unit}</span>}{' '}
              <b>{FINDING_TEXT[finding.kind]}</b> {finding.text}
            </p>
            <p className="muted">
              {dateText(finding.at)} {finding.author}
            </p>
          </li>
        ))}
      </ul>
      <AddFinding />
    </section>
  );
}

function AddFinding(): ReactNode {
  const units = useApp((s) => s.job?.units ?? null) ?? [];
  const command = useCommand();
  const { store } = useServices();
  const [kind, setKind] = useState<Kind>('dirtyFilter');
  const [unit, setUnit] = useState('');
  const [text, setText] = useState('');
  const submit = async (event: SyntheticEvent) => {
    event.preventDefault();
    const job = await command('finding.add', { unit: unit === '' ? null : unit, kind, text });
    if (job === null) return;
    put(store, { job });
    setText('');
  };
  return (
    <form className="add" onSubmit={(event) => void submit(event)}>
      <div className="fields">
        <SelectField
          label="What"
          value={kind}
          options={KINDS}
          onChange={(value) => setKind(value as Kind)}
        />
        <SelectField
          label="Where"
          value={unit}
          options={[['', 'the site'], ...units.map((u) => [u.key, `unit ${u.key}`] as const)]}
          onChange={setUnit}
        />
      </div>
      <TextField label="In words" value={text} onChange={setText} />
      <button type="submit">Add finding</button>
    </form>
  );
}
