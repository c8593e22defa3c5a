import type { ReactNode } from 'react';
import type { SteadinessState } from '../../core/steadiness/types.ts';

/** What the signal does against its band, drawn: a shape for every state, readable without colour. */
const PATHS: Record<SteadinessState, string> = {
  idle: 'M4 24 H44',
  starting: 'M4 3 C9 3 13 7 17 12 M22 17 L26 20 M31 22 L35 23 M40 24 H44',
  moving: 'M4 4 C14 4 18 20 44 22',
  hunting: 'M4 24 C8 10 12 10 16 24 S24 38 28 24 S36 10 44 24',
  settled: 'M4 24 H44',
  disturbed: 'M4 24 H20 V6 H44',
  blind: 'M4 24 H14 M34 24 H44',
};

/** The sign of a state: the band between two hairlines, the signal as a heavy line. */
export function Glyph({ state }: { readonly state: SteadinessState }): ReactNode {
  return (
    <svg viewBox="0 0 48 48" aria-hidden="true" className="glyph">
      <path d="M2 15 H46 M2 33 H46" stroke="currentColor" strokeWidth="1.5" opacity="0.55" />
      <path
        d={PATHS[state]}
        fill="none"
        stroke="currentColor"
        strokeWidth={state === 'settled' ? 7 : 4.5}
        strokeDasharray={state === 'idle' ? '1.5 6' : undefined}
      />
    </svg>
  );
}
