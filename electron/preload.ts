import { contextBridge, ipcRenderer, type IpcRendererEvent } from 'electron';
import type { PreloadApi } from './bridge/client.ts';
import { IPC } from './bridge/ipc-channels.ts';

/** The whole of what a page sees of Electron: three calls that carry text and numbers. */
const api: PreloadApi = {
  call: (name, args) => ipcRenderer.invoke(IPC.call, name, args) as Promise<string>,
  onEvent(fn) {
    const listener = (_event: IpcRendererEvent, message: string): void => fn(message);
    ipcRenderer.on(IPC.event, listener);
    ipcRenderer.send(IPC.join);
    return () => {
      ipcRenderer.off(IPC.event, listener);
    };
  },
  acknowledge: (n) => ipcRenderer.send(IPC.acknowledge, n),
};

contextBridge.exposeInMainWorld('stillpoint', api);
