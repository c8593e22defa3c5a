import { existsSync } from 'node:fs';
import { resolve } from 'node:path';
import react from '@vitejs/plugin-react';
import { defineConfig } from 'electron-vite';

const at = (path: string): string => resolve(import.meta.dirname, path);

/** Entries of the Node side; the radio worker runs in a process of its own. */
const NODE_ENTRIES = {
  main: 'electron/main.ts',
  start: 'electron/start.ts',
  worker: 'electron/radio/worker.ts',
};

/**
 * Three builds into out/: the Node side (ES modules that run in Electron and in Node 20 alike; the
 * packages stay outside, because one of them loads a .wasm file beside itself), the preload script
 * (one CommonJS file, which is all a sandboxed renderer may load), and the screens.
 */
export default defineConfig({
  main: {
    build: {
      target: 'node20.19',
      // By itself only `dependencies` stay outside; this one is optional and has native parts.
      externalizeDeps: { include: ['@abandonware/noble'] },
      rolldownOptions: {
        input: Object.fromEntries(
          Object.entries(NODE_ENTRIES)
            .map(([name, path]) => [name, at(path)] as const)
            .filter(([, path]) => existsSync(path)),
        ),
        output: { entryFileNames: '[name].js', chunkFileNames: 'chunks/[name]-[hash].js' },
      },
    },
  },
  preload: {
    build: {
      externalizeDeps: false,
      rolldownOptions: {
        input: at('electron/preload.ts'),
        output: { format: 'cjs', entryFileNames: 'preload.cjs' },
      },
    },
  },
  renderer: {
    root: at('renderer'),
    plugins: [react()],
    build: {
      emptyOutDir: true,
      minify: true,
      // Read from the disk of the same machine: one file is as good as many.
      chunkSizeWarningLimit: 2000,
      // The content security policy lets no font or script come from a data: address.
      assetsInlineLimit: 0,
      rolldownOptions: { input: at('renderer/index.html') },
    },
  },
});
