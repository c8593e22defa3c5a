import { meanAtRest } from '../../core/steadiness/rest.ts';
import { useEffect } from 'react';
import { durationText } from '../app/format.ts';
import { stateWord } from '../app/text.ts';
import { useApp, useServices } from '../store/context.ts';
import { notify } from '../store/store.ts';

/** Below this a forecast says no more than that it is near, s. */
export const SOON_S = 10;
/** Two rising notes for rest, two falling ones for a disturbance, Hz. */
const NOTES = { settled: [523.25, 783.99], disturbed: [392, 261.63] } as const;
const NOTE_S = 0.35;

/** Plays the two notes. Silent where the browser gives no audio. */
function sound(kind: keyof typeof NOTES): void {
  const audio = new AudioContext();
  NOTES[kind].forEach((frequency, i) => {
    const start = audio.currentTime + i * NOTE_S;
    const gain = audio.createGain();
    gain.gain.setValueAtTime(0.0001, start);
    gain.gain.exponentialRampToValueAtTime(0.5, start + 0.03);
    gain.gain.exponentialRampToValueAtTime(0.0001, start + NOTE_S);
    const tone = audio.createOscillator();
    tone.frequency.value = frequency;
    tone.connect(gain).connect(audio.destination);
    tone.start(start);
    tone.stop(start + NOTE_S);
    if (i === NOTES[kind].length - 1) tone.onended = () => void audio.close();
  });
}

/**
 * Calls out what the host reports: a line on the screen and, unless switched off, sound and a system
 * notification.
 */
export function useCallouts(): void {
  const { store, bridge } = useServices();
  useEffect(
    () =>
      bridge.on('callout', ({ unit, kind, text }) => {
        // On Watch the state itself says so, larger than any message could.
        if (store.getState().room !== 'watch') notify(store, 'info', text);
        if (!store.getState().settings.sound) return;
        sound(kind);
        if ('Notification' in window && Notification.permission === 'granted') {
          new Notification(`Unit ${unit}`, { body: text, tag: `stillpoint-${unit}` });
        }
      }),
    [store, bridge],
  );
}

/** Keeps the title bar telling the state, so that it can be read from the task bar. */
export function useTitle(): void {
  const text = useApp((s) =>
    (s.live?.units ?? [])
      .map(({ unit, state }) => {
        const { state: word, reason, timeLeft } = state.steadiness;
        const left =
          timeLeft === null || meanAtRest({ state: word, reason })
            ? ''
            : ` ${leftText(timeLeft.seconds)}`;
        return `${unit} ${stateWord(word, reason)}${left}`;
      })
      .join(' · '),
  );
  useEffect(() => {
    document.title = text === '' ? 'Stillpoint' : `${text} — Stillpoint`;
  }, [text]);
}

/** The time left as the title bar says it. */
function leftText(seconds: number): string {
  return seconds < SOON_S ? 'soon' : durationText(seconds);
}

/** Asks for permission to notify; only ever from a press of a button. */
export async function askToNotify(): Promise<NotificationPermission> {
  if (!('Notification' in window)) return 'denied';
  return Notification.permission === 'default'
    ? Notification.requestPermission()
    : Notification.permission;
}
