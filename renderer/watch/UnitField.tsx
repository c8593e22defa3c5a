import { useId, type ReactNode } from 'react';
import { useApp } from '../store/context.ts';

/** Chooses a unit of the open job. */
export function UnitField(p: {
  readonly unit: string;
  readonly onChange: (unit: string) => void;
}): ReactNode {
  const id = useId();
  const units = useApp((s) => s.job?.units ?? null) ?? [];
  if (units.length === 0) return <p>This job has no unit yet: add one in the Job room.</p>;
  return (
    <div className="field">
      <label htmlFor={id}>Unit</label>
      <select id={id} value={p.unit} onChange={(event) => p.onChange(event.target.value)}>
        {units.map((u) => (
          <option key={u.key} value={u.key}>
            {u.key} {u.name}
          </option>
        ))}
      </select>
    </div>
  );
}
