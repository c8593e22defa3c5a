import type { Result } from '../../core/result.ts';
import type { CommandArgs, CommandName, CommandResults } from './commands.ts';
import type { Failure } from './errors.ts';
import type { EventName, Events } from './events.ts';
import type { Incoming, Link } from './link.ts';
import { openSocket, type SocketPage } from './socket-client.ts';

/** The renderer's side of the bridge: the same over Electron IPC and the loopback socket. */
export interface Bridge {
  /** Runs a command in the host; expected failures are data, and it never rejects. */
  call<C extends CommandName>(
    name: C,
    args: CommandArgs<C>,
  ): Promise<Result<CommandResults[C], Failure>>;
  /** Listens to an event; returns the call that ends it. */
  on<E extends EventName>(event: E, fn: (payload: Events[E]) => void): () => void;
}

/**
 * What the preload script exposes as `window.stillpoint`. JSON texts only, so that both transports
 * carry the very same data.
 */
export interface PreloadApi {
  call(name: string, args: string): Promise<string>;
  onEvent(fn: (message: string) => void): () => void;
  acknowledge(n: number): void;
}

/** The parts of `window` the bridge needs; a test hands in its own. */
export interface BridgePage extends SocketPage {
  readonly stillpoint?: PreloadApi;
}

/**
 * Connects the screens with their host: through the preload script where there is one (Electron),
 * else through a WebSocket to the address the page came from.
 */
export function connectBridge(page: BridgePage): Bridge {
  const listeners = new Map<EventName, Set<(payload: unknown) => void>>();

  const receive = (message: Incoming): void => {
    for (const fn of [...(listeners.get(message.event) ?? [])]) fn(message.payload);
    // After the listeners: a page that is busy drawing asks for the next view later.
    if (message.n !== undefined) link.acknowledge(message.n);
  };
  const link =
    page.stillpoint === undefined
      ? openSocket(page, receive)
      : openPreload(page.stillpoint, receive);

  return {
    call: async (name, args) =>
      (await link.request(name, args)) as Result<CommandResults[typeof name], Failure>,
    on(event, fn) {
      let set = listeners.get(event);
      if (set === undefined) {
        set = new Set();
        listeners.set(event, set);
      }
      const own = (payload: unknown): void => fn(payload as Events[typeof event]);
      set.add(own);
      return () => {
        set.delete(own);
      };
    },
  };
}

function openPreload(api: PreloadApi, receive: (message: Incoming) => void): Link {
  api.onEvent((message) => receive(JSON.parse(message) as Incoming));
  return {
    request: async (name, args) =>
      JSON.parse(await api.call(name, JSON.stringify(args))) as unknown,
    acknowledge: (n) => api.acknowledge(n),
  };
}
