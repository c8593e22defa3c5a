import { connectBridge, type Bridge } from '../../electron/bridge/client.ts';

/** The one connection of this page with its host. */
export const bridge: Bridge = connectBridge(window);
