import { useState, type ReactNode } from 'react';
import { useApp } from '../store/context.ts';
import { UnitField } from './UnitField.tsx';
import { useStart } from './use-start.ts';

/** Starts a session from readings typed by hand. */
export function ManualSource(): ReactNode {
  const first = useApp((s) => s.job?.units[0]?.key ?? '');
  const [unit, setUnit] = useState(first);
  const start = useStart();
  return (
    <div className="source-form">
      <UnitField unit={unit} onChange={setUnit} />
      <button
        type="button"
        className="primary"
        disabled={unit === ''}
        onClick={() => void start({ kind: 'manual', unit })}
      >
        Type readings
      </button>
    </div>
  );
}
