import { ipcMain, type IpcMainEvent, type IpcMainInvokeEvent, type WebContents } from 'electron';
import { fail } from '../../core/result.ts';
import { failure } from './errors.ts';
import type { Handlers } from './handlers.ts';
import type { Hub, HubEvent } from './hub.ts';
import { createOutbox, type Outbox } from './outbox.ts';
import type { Unsubscribe } from '../sources/source.ts';
import { IPC } from './ipc-channels.ts';

/** Where the screens live under Electron. */
export const APP_ORIGIN = 'app://stillpoint';

interface IpcOptions {
  readonly handlers: Handlers;
  readonly hub: Hub;
  readonly greet: () => readonly HubEvent[];
  readonly report: (what: string, error: unknown) => void;
}

/**
 * Serves the bridge over Electron IPC. Only the main frame of a page of our own origin is listened
 * to; anything else gets a failure and a line in the log.
 *
 * @returns the call that ends it
 */
export function serveIpc(options: IpcOptions): Unsubscribe {
  const clients = new Map<WebContents, Outbox>();

  /** A page is a client from its first word, and anew after each reload. */
  const join = (contents: WebContents): void => {
    if (!clients.has(contents)) contents.once('destroyed', () => clients.delete(contents));
    const outbox = createOutbox((message) => {
      if (!contents.isDestroyed()) contents.send(IPC.event, JSON.stringify(message));
    });
    clients.set(contents, outbox);
    for (const event of options.greet()) outbox.post(event);
  };

  const unsubscribe = options.hub.subscribe((event) => {
    for (const outbox of clients.values()) outbox.post(event);
  });

  ipcMain.handle(IPC.call, async (event: IpcMainInvokeEvent, name: unknown, args: unknown) => {
    if (!isOurs(event)) {
      options.report('foreign sender', event.senderFrame?.url ?? 'no frame');
      return JSON.stringify(
        fail(failure('BAD_ARGUMENTS', { command: String(name), detail: 'unknown sender' })),
      );
    }
    return JSON.stringify(await options.handlers.dispatch(name, parse(args)));
  });
  const onJoin = (event: IpcMainEvent): void => {
    if (isOurs(event)) join(event.sender);
  };
  const onAcknowledge = (event: IpcMainEvent, n: unknown): void => {
    if (isOurs(event) && typeof n === 'number') clients.get(event.sender)?.acknowledge(n);
  };
  ipcMain.on(IPC.join, onJoin);
  ipcMain.on(IPC.acknowledge, onAcknowledge);

  return () => {
    unsubscribe();
    ipcMain.removeHandler(IPC.call);
    ipcMain.off(IPC.join, onJoin);
    ipcMain.off(IPC.acknowledge, onAcknowledge);
    clients.clear();
  };
}

/** Whether a message comes from the main frame of one of our own pages. */
function isOurs(event: IpcMainEvent | IpcMainInvokeEvent): boolean {
  const frame = event.senderFrame;
  if (frame === null || frame !== event.sender.mainFrame) return false;
  if (!URL.canParse(frame.url)) return false;
  const url = new URL(frame.url);
  // `origin` is the text 'null' for schemes of our own, so its parts are compared.
  return `${url.protocol}//${url.host}` === APP_ORIGIN;
}

function parse(text: unknown): unknown {
  if (typeof text !== 'string') return undefined;
  try {
    return JSON.parse(text) as unknown;
  } catch {
    return undefined;
  }
}
