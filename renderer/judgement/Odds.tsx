import type { ReactNode } from 'react';
import { percentText } from '../../core/diagnosis/format.ts';
import type { VerdictRow } from '../../core/diagnosis/types.ts';

const SIDES = ['below', 'within', 'above'] as const;

/** How likely a reading lies below, within and above its limits, as lengths and as numbers. */
export function VerdictOdds({
  probability,
}: {
  readonly probability: VerdictRow['probability'];
}): ReactNode {
  return (
    <span className="odds">
      <span className="odds-bar" aria-hidden="true">
        {SIDES.map((side) => (
          <span key={side} data-side={side} style={{ flexGrow: probability[side] }} />
        ))}
      </span>
      {SIDES.map((side) => (
        <span key={side} className="odds-part" data-side={side}>
          {side} <b>{percentText(probability[side])}</b>
        </span>
      ))}
    </span>
  );
}

/** How likely a suspect is, as a length; the number stands beside it. */
export function SuspectBar({ probability }: { readonly probability: number }): ReactNode {
  return (
    <span className="suspect-bar" aria-hidden="true">
      <span style={{ width: `${(100 * probability).toFixed(1)}%` }} />
    </span>
  );
}
