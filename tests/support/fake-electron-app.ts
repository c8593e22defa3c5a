import { EventEmitter } from 'node:events';
import { fakeElectron } from './fake-electron.ts';

/** A window the program opened. */
interface AskedWindow {
  readonly options: { readonly webPreferences: Readonly<Record<string, unknown>> };
  readonly urls: string[];
}

type PermissionRequest = (
  contents: unknown,
  permission: string,
  answer: (granted: boolean) => void,
) => void;

/** What the program asked of Electron. */
interface Asked {
  readonly order: string[];
  readonly schemes: unknown[];
  readonly windows: AskedWindow[];
  readonly notices: unknown[];
  readonly appEvents: EventEmitter;
  serve: ((request: { url: string }) => Promise<Response>) | null;
  permission: PermissionRequest | null;
  permissionCheck: (() => boolean) | null;
  device: (() => boolean) | null;
  menu: unknown;
}

/** The fake Electron with an application, windows and a session, for the entry of the program. */
export function fakeElectronApp() {
  const asked: Asked = {
    order: [],
    schemes: [],
    windows: [],
    notices: [],
    appEvents: new EventEmitter(),
    serve: null,
    permission: null,
    permissionCheck: null,
    device: null,
    menu: 'the default menu',
  };

  class BrowserWindow extends EventEmitter {
    readonly asked: AskedWindow;
    constructor(options: AskedWindow['options']) {
      super();
      this.asked = { options, urls: [] };
      asked.windows.push(this.asked);
    }
    loadURL(url: string): Promise<void> {
      this.asked.urls.push(url);
      return Promise.resolve();
    }
  }

  class Notification {
    readonly options: unknown;
    constructor(options: unknown) {
      this.options = options;
    }
    show(): void {
      asked.notices.push(this.options);
    }
    static isSupported(): boolean {
      return true;
    }
  }

  const electron = {
    ...fakeElectron().electron,
    BrowserWindow,
    Notification,
    Menu: { setApplicationMenu: (menu: unknown) => (asked.menu = menu) },
    app: {
      enableSandbox: () => asked.order.push('sandbox'),
      requestSingleInstanceLock: () => true,
      whenReady: () => {
        asked.order.push('ready');
        return Promise.resolve();
      },
      on: (name: string, fn: (...args: unknown[]) => void) => asked.appEvents.on(name, fn),
      quit: () => asked.order.push('quit'),
    },
    protocol: {
      registerSchemesAsPrivileged: (schemes: unknown[]) => asked.schemes.push(...schemes),
      handle: (_scheme: string, fn: Asked['serve']) => (asked.serve = fn),
    },
    session: {
      defaultSession: {
        setPermissionRequestHandler: (fn: Asked['permission']) => (asked.permission = fn),
        setPermissionCheckHandler: (fn: Asked['permissionCheck']) => (asked.permissionCheck = fn),
        setDevicePermissionHandler: (fn: Asked['device']) => (asked.device = fn),
      },
    },
    utilityProcess: { fork: () => undefined },
  };
  return { electron, asked };
}
