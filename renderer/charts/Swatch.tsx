import type { ReactNode } from 'react';
import type { LineStyle } from './line-style.ts';

/** A short piece of a line, as in the chart. */
export function Swatch({ style }: { readonly style: LineStyle }): ReactNode {
  return (
    <svg className="swatch" width="26" height="10" viewBox="0 0 26 10" aria-hidden="true">
      <path
        d="M1 5 H25"
        stroke={style.color}
        strokeWidth={style.width + 0.5}
        strokeDasharray={style.dash}
      />
    </svg>
  );
}
