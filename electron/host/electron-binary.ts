import { existsSync, readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';

/** Electron's own program, or why it cannot be used here. */
export type ElectronBinary =
  { readonly path: string; readonly why: null } | { readonly path: null; readonly why: string };

/** What decides whether Electron can open a window; a test hands in its own. */
export interface Machine {
  readonly env: NodeJS.ProcessEnv;
  readonly platform: NodeJS.Platform;
  readonly isRoot: boolean;
  /** Folder of the installed package `electron`; null where it is not installed. */
  electronFolder(): string | null;
}

/** This machine. */
export function thisMachine(): Machine {
  return {
    env: process.env,
    platform: process.platform,
    isRoot: process.getuid?.() === 0,
    electronFolder() {
      try {
        return dirname(createRequire(import.meta.url).resolve('electron/package.json'));
      } catch {
        return null;
      }
    },
  };
}

/** Whether the system can show a window at all. */
export function hasDisplay(machine: Pick<Machine, 'env' | 'platform'>): boolean {
  if (machine.platform !== 'linux') return true;
  return ['DISPLAY', 'WAYLAND_DISPLAY'].some((name) => (machine.env[name] ?? '') !== '');
}

/**
 * Looks for Electron's program without loading the package: loading it would start a download. The
 * package names the program in `path.txt` once it has been fetched.
 */
export function findElectron(machine: Machine): ElectronBinary {
  const no = (why: string): ElectronBinary => ({ path: null, why });
  if (machine.env['STILLPOINT_HOST'] === 'loopback') return no('the loopback host was asked for');
  const folder = machine.electronFolder();
  if (folder === null) return no('the package electron is not installed');
  const named = join(folder, 'path.txt');
  if (!existsSync(named)) {
    return no('its program has not been fetched (npx install-electron --no would fetch it)');
  }
  const path = join(folder, 'dist', readFileSync(named, 'utf8').trim());
  if (!existsSync(path)) return no(`its program is missing at ${path}`);
  if (!hasDisplay(machine)) return no('there is no display');
  if (machine.isRoot && machine.platform === 'linux') {
    return no('its sandbox does not work as root, and it is not run without');
  }
  return { path, why: null };
}
