import { useId, type ReactNode } from 'react';

/** Speeds offered for sources whose time can be driven, times real time. */
export const SPEEDS = [1, 4, 10, 30, 60, 200, 1000] as const;

/** Chooses how fast the time of a source runs. */
export function SpeedField(p: {
  readonly speed: number;
  readonly onChange: (speed: number) => void;
}): ReactNode {
  const id = useId();
  return (
    <div className="field">
      <label htmlFor={id}>Speed</label>
      <select id={id} value={p.speed} onChange={(event) => p.onChange(Number(event.target.value))}>
        {SPEEDS.map((speed) => (
          <option key={speed} value={speed}>
            {speed === 1 ? 'real time' : `${speed}× real time`}
          </option>
        ))}
      </select>
    </div>
  );
}
