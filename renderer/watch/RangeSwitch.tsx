import type { ReactNode } from 'react';

/** Ranges of history on the screen; seconds, or null for all. */
export const RANGES = [
  { text: '10 min', seconds: 600 },
  { text: '30 min', seconds: 1800 },
  { text: '1 h', seconds: 3600 },
  { text: 'All', seconds: null },
] as const;
export type Range = (typeof RANGES)[number]['seconds'];

/** Chooses how much history the pictures show. */
export function RangeSwitch(p: {
  readonly range: Range;
  readonly onChange: (range: Range) => void;
}): ReactNode {
  return (
    <div className="switch" role="group" aria-label="History shown">
      {RANGES.map(({ text, seconds }) => (
        <button
          key={text}
          type="button"
          aria-pressed={p.range === seconds}
          onClick={() => p.onChange(seconds)}
        >
          {text}
        </button>
      ))}
    </div>
  );
}
