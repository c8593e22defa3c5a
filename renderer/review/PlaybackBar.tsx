import { useEffect, useRef, useState, type ReactNode } from 'react';
import { clockText } from '../app/format.ts';
import { useApp } from '../store/context.ts';
import { useSteer, type Steer } from '../store/steer.ts';
import type { Role } from '../store/store.ts';

/** Speeds of replay, times real time. */
const SPEEDS = [1, 2, 4, 10, 30, 60, 120, 300, 1000] as const;
const STEP_S = 10;
const LONG_STEP_S = 60;
/** A dragged slider asks for its place when it rests this long, ms. */
const SETTLE_MS = 120;

/**
 * Steers the time of a replay. Space plays and pauses, the arrow keys step (Shift: a minute), plus
 * and minus change the speed.
 */
export function PlaybackBar({ role }: { readonly role: Role }): ReactNode {
  const steer = useSteer(role);
  const position = useApp((s) => s[role]?.playback?.position ?? 0);
  const duration = useApp((s) => s[role]?.playback?.duration ?? null);
  const playing = useApp((s) => s[role]?.playback?.playing ?? false);
  const speed = useApp((s) => s[role]?.playback?.speed ?? 1);
  usePlaybackKeys(role);
  const toggle = () => void steer(playing ? { do: 'pause' } : { do: 'play' });
  return (
    <section className="playback" aria-label="Playback">
      <button type="button" className="primary play" aria-keyshortcuts="Space" onClick={toggle}>
        {playing ? 'Pause' : 'Play'}
      </button>
      <Scrubber role={role} position={position} duration={duration} />
      <span className="playback-time">
        <b>{clockText(position)}</b> {duration === null ? '' : `of ${clockText(duration)}`}
      </span>
      <label>
        <span className="sr">Speed</span>
        <select
          aria-keyshortcuts="+ -"
          value={speed}
          onChange={(event) => void steer({ do: 'speed', speed: Number(event.target.value) })}
        >
          {[...new Set([...SPEEDS, speed])]
            .sort((a, b) => a - b)
            .map((s) => (
              <option key={s} value={s}>
                {s}×
              </option>
            ))}
        </select>
      </label>
    </section>
  );
}

function Scrubber(p: {
  readonly role: Role;
  readonly position: number;
  readonly duration: number | null;
}): ReactNode {
  const steer = useSteer(p.role);
  const [held, setHeld] = useState<number | null>(null);
  const timer = useRef<ReturnType<typeof setTimeout>>(undefined);
  const drag = (position: number) => {
    setHeld(position);
    clearTimeout(timer.current);
    timer.current = setTimeout(() => {
      void steer({ do: 'seek', position }).then(() => setHeld(null));
    }, SETTLE_MS);
  };
  if (p.duration === null) return <span className="scrubber" />;
  const value = Math.min(held ?? p.position, p.duration);
  return (
    <input
      className="scrubber"
      type="range"
      aria-label="Position"
      aria-valuetext={`${clockText(value)} of ${clockText(p.duration)}`}
      min={0}
      max={Math.ceil(p.duration)}
      step={1}
      value={value}
      onChange={(event) => drag(Number(event.target.value))}
    />
  );
}

function usePlaybackKeys(role: Role): void {
  const steer = useSteer(role);
  const playback = useApp((s) => s[role]?.playback ?? null);
  const now = useRef(playback);
  useEffect(() => {
    now.current = playback;
  }, [playback]);
  useEffect(() => {
    const onKey = (event: KeyboardEvent) => {
      const state = now.current;
      if (state === null || busy(event)) return;
      if (act(event, state, steer)) event.preventDefault();
    };
    window.addEventListener('keydown', onKey);
    return () => window.removeEventListener('keydown', onKey);
  }, [steer]);
}

/** Whether a key press belongs to a control that has the focus. */
function busy(event: KeyboardEvent): boolean {
  const { target } = event;
  if (event.altKey || event.ctrlKey || event.metaKey) return true;
  if (!(target instanceof HTMLElement)) return false;
  if (target.closest('input, select, textarea, dialog') !== null) return true;
  return event.key === ' ' && target.closest('button, summary') !== null;
}

function act(
  event: KeyboardEvent,
  state: { readonly position: number; readonly speed: number; readonly playing: boolean },
  steer: Steer,
): boolean {
  const step = event.shiftKey ? LONG_STEP_S : STEP_S;
  const seek = (position: number) => void steer({ do: 'seek', position: Math.max(0, position) });
  const at = SPEEDS.findIndex((s) => s >= state.speed);
  const faster = SPEEDS[Math.min(SPEEDS.length - 1, at + 1)] ?? state.speed;
  const slower = SPEEDS[Math.max(0, at - 1)] ?? state.speed;
  switch (event.key) {
    case ' ':
      void steer(state.playing ? { do: 'pause' } : { do: 'play' });
      return true;
    case 'ArrowRight':
      seek(state.position + step);
      return true;
    case 'ArrowLeft':
      seek(state.position - step);
      return true;
    case '+':
    case '-':
      void steer({ do: 'speed', speed: event.key === '+' ? faster : slower });
      return true;
    default:
      return false;
  }
}
