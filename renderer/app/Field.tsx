import { useId, type ReactNode } from 'react';

interface Shared {
  readonly label: string;
  readonly value: string;
  readonly onChange: (value: string) => void;
  /** What is wrong with it, shown beside it. */
  readonly error?: string | undefined;
  readonly hint?: string | undefined;
}

/** The label, the hint and the error of one field, tied to its control. */
function Around(p: {
  readonly id: string;
  readonly field: Pick<Shared, 'label' | 'error' | 'hint'>;
  readonly children: ReactNode;
}): ReactNode {
  const { label, error, hint } = p.field;
  return (
    <div className="field">
      <label htmlFor={p.id}>{label}</label>
      {p.children}
      {hint !== undefined && <span className="field-hint">{hint}</span>}
      {error !== undefined && (
        <span className="field-error" id={`${p.id}-error`} role="alert">
          {error}
        </span>
      )}
    </div>
  );
}

/** A line or a paragraph of text. */
export function TextField(
  p: Shared & {
    readonly rows?: number;
    readonly numeric?: boolean;
    readonly disabled?: boolean;
  },
): ReactNode {
  const id = useId();
  const control = {
    id,
    value: p.value,
    'aria-invalid': p.error !== undefined,
    'aria-describedby': p.error === undefined ? undefined : `${id}-error`,
  };
  return (
    <Around id={id} field={p}>
      {p.rows === undefined ? (
        <input
          {...control}
          disabled={p.disabled === true}
          inputMode={p.numeric === true ? 'decimal' : 'text'}
          onChange={(event) => p.onChange(event.target.value)}
        />
      ) : (
        <textarea {...control} rows={p.rows} onChange={(event) => p.onChange(event.target.value)} />
      )}
    </Around>
  );
}

/** A choice from a closed list. */
export function SelectField(
  p: Shared & { readonly options: readonly (readonly [value: string, text: string])[] },
): ReactNode {
  const id = useId();
  return (
    <Around id={id} field={p}>
      <select id={id} value={p.value} onChange={(event) => p.onChange(event.target.value)}>
        {p.options.map(([value, text]) => (
          <option key={value} value={value}>
            {text}
          </option>
        ))}
      </select>
    </Around>
  );
}
