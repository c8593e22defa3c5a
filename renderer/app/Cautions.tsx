import type { ReactNode } from 'react';

/** A short list of cautions beside the step they belong to. */
export function Cautions({ lines }: { readonly lines: readonly string[] }): ReactNode {
  return (
    <aside className="cautions" aria-label="Cautions">
      <ul>
        {lines.map((line) => (
          <li key={line}>{line}</li>
        ))}
      </ul>
    </aside>
  );
}
