import { EventEmitter } from 'node:events';

/** A page in the fake Electron: what `event.sender` is. */
export class FakeContents extends EventEmitter {
  readonly mainFrame: { url: string };
  readonly toRenderer: EventEmitter;
  openHandler: (() => { action: string }) | null = null;

  constructor(url: string, toRenderer: EventEmitter) {
    super();
    this.mainFrame = { url };
    this.toRenderer = toRenderer;
    this.setMaxListeners(0);
  }
  send(channel: string, ...args: unknown[]): void {
    this.toRenderer.emit(channel, {}, ...args);
  }
  isDestroyed(): boolean {
    return false;
  }
  setWindowOpenHandler(handler: () => { action: string }): void {
    this.openHandler = handler;
  }
}

type Handler = (event: unknown, ...args: unknown[]) => unknown;

/**
 * As much of Electron as the program uses, to be put in the place of the package: its two ends of
 * IPC are joined as Electron joins them, and every setting made is kept for a test to look at.
 */
export function fakeElectron() {
  const main = new EventEmitter();
  const renderer = new EventEmitter();
  // Many tests in turn join the same ends.
  for (const emitter of [main, renderer]) emitter.setMaxListeners(0);
  const handlers = new Map<string, Handler>();
  const contents = new FakeContents('app://stillpoint/index.html', renderer);
  const exposed = new Map<string, unknown>();
  const state = {
    contents,
    exposed,
    /** The frame that speaks; a test puts a foreign one here. */
    senderFrame: contents.mainFrame as { url: string } | null,
  };
  const eventOf = () => ({ sender: contents, senderFrame: state.senderFrame });

  const electron = {
    ipcMain: {
      handle: (channel: string, handler: Handler) => handlers.set(channel, handler),
      removeHandler: (channel: string) => handlers.delete(channel),
      on: (channel: string, fn: Handler) => main.on(channel, fn),
      off: (channel: string, fn: Handler) => main.off(channel, fn),
    },
    ipcRenderer: {
      invoke: (channel: string, ...args: unknown[]) => {
        const handler = handlers.get(channel);
        if (handler === undefined) return Promise.reject(new Error(`no handler for ${channel}`));
        return Promise.resolve(handler(eventOf(), ...args));
      },
      send: (channel: string, ...args: unknown[]) => main.emit(channel, eventOf(), ...args),
      on: (channel: string, fn: (...args: unknown[]) => void) => renderer.on(channel, fn),
      off: (channel: string, fn: (...args: unknown[]) => void) => renderer.off(channel, fn),
    },
    contextBridge: {
      exposeInMainWorld: (name: string, api: unknown) => exposed.set(name, api),
    },
  };
  return { electron, state };
}
