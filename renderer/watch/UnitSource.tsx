import { useState, type ReactNode } from 'react';
import { useApp } from '../store/context.ts';
import { UnitField } from './UnitField.tsx';
import { useStart } from './use-start.ts';

/** Starts a session from readings typed by hand, or from sensors on the air. */
export function UnitSource(p: {
  readonly kind: 'manual' | 'radio';
  readonly action: string;
}): ReactNode {
  const first = useApp((s) => s.job?.units[0]?.key ?? '');
  const [unit, setUnit] = useState(first);
  const start = useStart();
  return (
    <div className="source-form">
      {p.kind === 'manual' && <UnitField unit={unit} onChange={setUnit} />}
      <button
        type="button"
        className="primary"
        disabled={p.kind === 'manual' && unit === ''}
        onClick={() =>
          void start(p.kind === 'manual' ? { kind: 'manual', unit } : { kind: 'radio' })
        }
      >
        {p.action}
      </button>
    </div>
  );
}
