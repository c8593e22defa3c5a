import { fail } from '../../core/result.ts';
import { failure } from './errors.ts';
import type { Incoming, Link } from './link.ts';

/** The parts of `window` the socket needs. */
export interface SocketPage {
  readonly location: { readonly hash: string; readonly host: string; readonly pathname: string };
  readonly history: { replaceState(data: null, unused: string, url: string): void };
  readonly sessionStorage: {
    getItem(key: string): string | null;
    setItem(key: string, value: string): void;
  };
  readonly WebSocket: new (url: string, protocols: string[]) => WebSocket;
  setTimeout(fn: () => void, ms: number): unknown;
}

export const SOCKET_PATH = '/bridge';
export const SOCKET_PROTOCOL = 'stillpoint';
/** The second subprotocol carries the key: a browser sends it with the upgrade and nowhere else. */
export const KEY_PREFIX = 'key.';
/** The part of the address behind `#`, which a browser sends to nobody. */
const KEY_FRAGMENT = /^#key=([\w-]+)$/;
const STORED_KEY = 'stillpoint.key';
const FIRST_RETRY_MS = 250;
const LAST_RETRY_MS = 4000;

const LOST =
  'The connection to the program is lost and is being tried again. A recording goes on in the program meanwhile.';
const NO_KEY =
  'The program does not know this page. Open the address that it printed when it started.';

/**
 * Takes the key out of the address bar, so that it is not copied or bookmarked with the address,
 * and keeps it for reloads of this tab.
 */
function takeKey(page: SocketPage): string {
  const fromAddress = KEY_FRAGMENT.exec(page.location.hash)?.[1];
  if (fromAddress === undefined) return page.sessionStorage.getItem(STORED_KEY) ?? '';
  page.sessionStorage.setItem(STORED_KEY, fromAddress);
  page.history.replaceState(null, '', page.location.pathname);
  return fromAddress;
}

/**
 * A WebSocket to the loopback host that reconnects by itself. A call that waits when the connection
 * breaks fails as DISCONNECTED: whether it was done is not known.
 */
export function openSocket(page: SocketPage, receive: (message: Incoming) => void): Link {
  const pending = new Map<number, (result: unknown) => void>();
  const waiting: string[] = [];
  let key = takeKey(page);
  let socket: WebSocket | null = null;
  let open = false;
  let retry = FIRST_RETRY_MS;
  let told = false;
  let everOpen = false;
  let count = 0;

  const tell = (level: 'info' | 'error', text: string): void =>
    receive({ event: 'notice', payload: { level, text } });

  const onMessage = (text: string): void => {
    const message = JSON.parse(text) as
      | ({ readonly kind: 'event' } & Incoming)
      | { readonly kind: 'result'; readonly id: number; readonly result: unknown }
      | { readonly kind: 'key'; readonly key: string };
    if (message.kind === 'event') {
      receive(message);
    } else if (message.kind === 'key') {
      key = message.key;
      page.sessionStorage.setItem(STORED_KEY, key);
    } else {
      pending.get(message.id)?.(message.result);
      pending.delete(message.id);
    }
  };

  const onClose = (): void => {
    open = false;
    waiting.length = 0;
    for (const resolve of pending.values()) resolve(fail(failure('DISCONNECTED')));
    pending.clear();
    if (!told) tell('error', everOpen ? LOST : NO_KEY);
    told = true;
    page.setTimeout(connect, retry);
    retry = Math.min(LAST_RETRY_MS, 2 * retry);
  };

  function connect(): void {
    const current = new page.WebSocket(`ws://${page.location.host}${SOCKET_PATH}`, [
      SOCKET_PROTOCOL,
      `${KEY_PREFIX}${key}`,
    ]);
    socket = current;
    current.onopen = () => {
      open = true;
      if (told && everOpen) tell('info', 'Connected to the program again.');
      everOpen = true;
      told = false;
      retry = FIRST_RETRY_MS;
      for (const text of waiting.splice(0)) current.send(text);
    };
    current.onmessage = (event: MessageEvent) => onMessage(String(event.data));
    current.onclose = onClose;
  }

  connect();
  return {
    request(name, args) {
      count += 1;
      const id = count;
      const text = JSON.stringify({ kind: 'call', id, name, args });
      return new Promise((resolve) => {
        pending.set(id, resolve);
        if (open) socket?.send(text);
        else waiting.push(text);
      });
    },
    acknowledge(n) {
      if (open) socket?.send(JSON.stringify({ kind: 'ack', n }));
    },
  };
}
