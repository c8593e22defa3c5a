import { WebSocket as NodeWebSocket } from 'ws';
import type { BridgePage } from '../../electron/bridge/client.ts';

/**
 * What the client of the bridge needs of a page, in Node, as if the page had been opened at `url`.
 * Its sockets name the page's origin, as a browser's do.
 */
export function nodePage(url: string): BridgePage {
  const at = new URL(url);
  const stored = new Map<string, string>();
  class PageSocket extends NodeWebSocket {
    constructor(to: string, protocols: string[]) {
      super(to, protocols, { origin: at.origin });
      // A browser reports a failed connection by closing; only Node throws what nobody listens to.
      this.on('error', () => undefined);
    }
  }
  return {
    location: { hash: at.hash, host: at.host, pathname: at.pathname },
    history: { replaceState: () => undefined },
    sessionStorage: {
      getItem: (key) => stored.get(key) ?? null,
      setItem: (key, value) => stored.set(key, value),
    },
    WebSocket: PageSocket as unknown as BridgePage['WebSocket'],
    setTimeout: (fn, ms) => setTimeout(fn, ms).unref(),
  };
}
