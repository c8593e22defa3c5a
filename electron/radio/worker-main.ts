import { errorText } from '../error-text.ts';
import { Central } from './central.ts';
import { RequestSchema, type Notice } from './messages.ts';
import type { Noble } from './noble-types.ts';

const ALIVE_MS = 1000;
/** Faults inside the radio library that are survived in a minute; with more, start afresh. */
const FAULTS_A_MINUTE = 30;

/** The channel to the program: a child process's or a utility process's. */
export interface ParentPort {
  send(notice: Notice): void;
  onMessage(fn: (message: unknown) => void): void;
}

/**
 * The whole of the radio process. Where noble cannot be loaded (no Bluetooth in the system, no
 * native part) the adapter is told to be absent and the process stays.
 *
 * A packet that noble cannot parse throws out of its event handler. That one packet is lost and the
 * process goes on, since the other sensors are not at fault; too many of them end it, and the
 * program starts another.
 */
export async function runRadioProcess(
  port: ParentPort,
  loadNoble: () => Promise<Noble>,
): Promise<void> {
  const now = () => Number(process.hrtime.bigint()) / 1e9;
  let central: Central | null = null;
  const early: unknown[] = [];
  let faults: number[] = [];

  process.on('uncaughtException', (error) => {
    faults = [...faults.filter((t) => now() - t < 60), now()];
    process.stderr.write(`radio: ${error.stack ?? error.message}\n`);
    if (faults.length > FAULTS_A_MINUTE) process.exit(70);
  });
  const handle = (message: unknown) => {
    const request = RequestSchema.safeParse(message);
    if (!request.success) return;
    if (request.data.type === 'end') void (central?.end() ?? Promise.resolve()).then(leave);
    else if (central === null) early.push(message);
    else central.handle(request.data);
  };
  port.onMessage(handle);
  setInterval(() => port.send({ type: 'alive', t: now() }), ALIVE_MS);
  try {
    const noble = await loadNoble();
    central = new Central(
      noble,
      now,
      (notice) => port.send(notice),
      (why) => {
        process.stderr.write(`radio: ${why}\n`);
        process.exit(71);
      },
    );
    early.splice(0).forEach(handle);
  } catch (error) {
    const detail = errorText(error);
    const state = /EPERM|EACCES|not permitted/i.test(detail) ? 'unauthorized' : 'absent';
    port.send({ type: 'adapter', state, detail: detail.slice(0, 500) });
  }
}

function leave(): void {
  process.exit(0);
}

/** The port of this process, whichever way it was started; null where nobody started it. */
export function parentPort(): ParentPort | null {
  const utility = (process as unknown as { parentPort?: UtilityPort }).parentPort;
  if (utility !== undefined) {
    return {
      send: (notice) => utility.postMessage(notice),
      onMessage: (fn) => utility.on('message', (event) => fn(event.data)),
    };
  }
  if (process.send === undefined) return null;
  // The program is gone: so are we.
  process.on('disconnect', leave);
  return {
    send: (notice) => {
      if (process.connected) process.send?.(notice);
    },
    onMessage: (fn) => process.on('message', fn),
  };
}

interface UtilityPort {
  postMessage(message: unknown): void;
  on(event: 'message', fn: (event: { data: unknown }) => void): void;
}
