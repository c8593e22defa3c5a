import { spawn } from 'node:child_process';
import { accessSync, constants } from 'node:fs';
import { delimiter, join } from 'node:path';

/** Browsers that can show a page as an application (`--app=`), by the names of their programs. */
const NAMES = [
  'chromium',
  'chromium-browser',
  'google-chrome',
  'google-chrome-stable',
  'chrome',
  'microsoft-edge',
  'microsoft-edge-stable',
  'msedge',
  'brave-browser',
] as const;

/** Places outside the search path where systems put them. */
const PLACES: Partial<Record<NodeJS.Platform, readonly string[]>> = {
  darwin: [
    '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
    '/Applications/Chromium.app/Contents/MacOS/Chromium',
    '/Applications/Microsoft Edge.app/Contents/MacOS/Microsoft Edge',
  ],
  win32: [
    'C:\\Program Files\\Google\\Chrome\\Application\\chrome.exe',
    'C:\\Program Files (x86)\\Google\\Chrome\\Application\\chrome.exe',
    'C:\\Program Files (x86)\\Microsoft\\Edge\\Application\\msedge.exe',
    'C:\\Program Files\\Microsoft\\Edge\\Application\\msedge.exe',
  ],
};

/** Where browsers are looked for; a test hands in its own. */
export interface BrowserSearch {
  readonly env: NodeJS.ProcessEnv;
  readonly platform: NodeJS.Platform;
  isProgram(path: string): boolean;
}

/** This machine. */
export function thisSearch(): BrowserSearch {
  return { env: process.env, platform: process.platform, isProgram };
}

function isProgram(path: string): boolean {
  try {
    accessSync(path, constants.X_OK);
    return true;
  } catch {
    return false;
  }
}

/** The first installed browser of the Chromium kind; CHROMIUM_PATH goes first. Null if none. */
export function findBrowser(search: BrowserSearch): string | null {
  const chosen = search.env['CHROMIUM_PATH'];
  if (chosen !== undefined && chosen !== '') return search.isProgram(chosen) ? chosen : null;
  const suffix = search.platform === 'win32' ? '.exe' : '';
  const folders = (search.env['PATH'] ?? '').split(delimiter).filter((folder) => folder !== '');
  const candidates = [
    ...NAMES.flatMap((name) => folders.map((folder) => join(folder, name + suffix))),
    ...(PLACES[search.platform] ?? []),
  ];
  return candidates.find((path) => search.isProgram(path)) ?? null;
}

/**
 * Opens an address as an application window of a browser. As root such a browser runs only without
 * its sandbox; then, and only then, it is switched off.
 *
 * @param onFailure is told when the program could not be started
 */
export function openInBrowser(
  browser: string,
  address: string,
  isRoot: boolean,
  onFailure: (why: string) => void,
): void {
  const child = spawn(browser, [`--app=${address}`, ...(isRoot ? ['--no-sandbox'] : [])], {
    detached: true,
    stdio: 'ignore',
  });
  child.once('error', (error) => onFailure(error.message));
  child.unref();
}
