import type { ReactNode } from 'react';
import { useApp } from '../store/context.ts';
import { useSteer } from '../store/steer.ts';
import { SPEEDS } from './SpeedField.tsx';

/** How fast the time of a simulated or logged session runs, where its source can be driven. */
export function Pace(): ReactNode {
  const steer = useSteer('live');
  const able = useApp((s) => s.live?.capabilities.includes('speed') === true);
  const playing = useApp((s) => s.live?.playback?.playing ?? false);
  const speed = useApp((s) => s.live?.playback?.speed ?? 1);
  const ended = useApp((s) => s.live?.health.state === 'ended');
  if (!able) return null;
  const speeds = [...new Set<number>([...SPEEDS, speed])].sort((a, b) => a - b);
  return (
    <div className="pace">
      <button
        type="button"
        disabled={ended}
        onClick={() => void steer(playing ? { do: 'pause' } : { do: 'play' })}
      >
        {playing ? 'Pause' : 'Go on'}
      </button>
      <select
        aria-label="Speed of the session"
        value={speed}
        disabled={ended}
        onChange={(event) => void steer({ do: 'speed', speed: Number(event.target.value) })}
      >
        {speeds.map((s) => (
          <option key={s} value={s}>
            {s}×
          </option>
        ))}
      </select>
    </div>
  );
}
