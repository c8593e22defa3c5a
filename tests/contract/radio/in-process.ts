import { Central } from '../../../electron/radio/central.ts';
import { systemClock } from '../../../electron/radio/clock.ts';
import { RequestSchema, type Notice } from '../../../electron/radio/messages.ts';
import type { Noble } from '../../../electron/radio/noble-types.ts';
import type { RadioProcess, RadioSpawner } from '../../../electron/radio/spawner.ts';

/** A radio "process" inside the test's own, with what a test does to it. */
export interface InProcess {
  readonly spawn: RadioSpawner;
  /** Ends the present one as a crash would. */
  readonly crash: () => void;
  /** It says nothing any more, as in a hang. */
  readonly hang: () => void;
  /** Sends something that is not of the agreed form. */
  readonly babble: (message: unknown) => void;
  readonly started: () => number;
}

/** Runs the radio's central in this process, with messages copied as between processes. */
export function inProcess(
  makeNoble: () => Noble,
  now: () => number = () => systemClock.now(),
): InProcess {
  let crash = (): void => undefined;
  let hang = (): void => undefined;
  let babble: (message: unknown) => void = () => undefined;
  let started = 0;
  const spawn = (): RadioProcess => {
    started += 1;
    const onMessage: ((message: unknown) => void)[] = [];
    const onExit: ((why: string) => void)[] = [];
    let isOver = false;
    let isHung = false;
    const deliver = (message: unknown) => {
      const copy = structuredClone(message);
      setImmediate(() => {
        if (!isOver && !isHung) onMessage.forEach((fn) => fn(copy));
      });
    };
    const tell = (notice: Notice) => deliver(notice);
    const alive = setInterval(() => tell({ type: 'alive', t: now() }), 200);
    const end = (why: string) => {
      if (isOver) return;
      isOver = true;
      clearInterval(alive);
      setImmediate(() => onExit.forEach((fn) => fn(why)));
    };
    crash = () => end('SIGSEGV');
    hang = () => {
      isHung = true;
    };
    babble = deliver;
    let central: Central | null = null;
    try {
      central = new Central(makeNoble(), now, tell, end);
    } catch (error) {
      tell({ type: 'adapter', state: 'absent', detail: String(error) });
    }
    return {
      send: (message) => {
        const request = RequestSchema.parse(message);
        if (request.type !== 'end') central?.handle(request);
        else void (central?.end() ?? Promise.resolve()).then(() => end('code 0'));
      },
      onMessage: (fn) => void onMessage.push(fn),
      onExit: (fn) => void onExit.push(fn),
      kill: () => end('SIGKILL'),
    };
  };
  return {
    spawn,
    crash: () => crash(),
    hang: () => hang(),
    babble: (message) => babble(message),
    started: () => started,
  };
}
