import { spawnSync } from 'node:child_process';
import { createRequire } from 'node:module';
import { existsSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { chromium, type Browser } from 'playwright-core';
import { findBrowser, thisSearch } from '../../electron/host/browser.ts';

const DOWNLOAD_LIMIT_MS = 300_000;
const isRoot = process.getuid?.() === 0;

const HELP = `No browser could be had for the end-to-end tests. Any of these mends it:
  - install Chromium or Chrome (on Debian, as root: apt-get install chromium);
  - name one: CHROMIUM_PATH=/path/to/chromium npm test;
  - let Playwright fetch its own: npx playwright-core install --with-deps chromium`;

/** Starts a browser without a window. As root Chromium runs only without its sandbox. */
export async function launch(executablePath: string): Promise<Browser> {
  return chromium.launch({ executablePath, args: isRoot ? ['--no-sandbox'] : [] });
}

async function works(path: string, tried: string[]): Promise<boolean> {
  if (!existsSync(path)) return false;
  try {
    await (await launch(path)).close();
    return true;
  } catch (error) {
    tried.push(`${path} does not start: ${String(error).split('\n')[0] ?? ''}`);
    return false;
  }
}

function run(command: string, args: readonly string[], tried: string[]): boolean {
  process.stdout.write(`e2e: ${command} ${args.join(' ')}\n`);
  const { status, error } = spawnSync(command, args, {
    stdio: ['ignore', 'inherit', 'inherit'],
    timeout: DOWNLOAD_LIMIT_MS,
    env: { ...process.env, DEBIAN_FRONTEND: 'noninteractive' },
  });
  if (status === 0) return true;
  tried.push(
    `${command} ${args.join(' ')} failed: ${error?.message ?? `code ${status ?? 'none'}`}`,
  );
  return false;
}

/**
 * A browser that was seen to start: an installed one (CHROMIUM_PATH first), else Playwright's own
 * download, else, as root on Debian, the system's package.
 *
 * @throws Error that says what was tried and what to do; the tests are never skipped
 */
export async function ensureBrowser(): Promise<string> {
  const tried: string[] = [];
  const installed = findBrowser(thisSearch());
  if (installed !== null && (await works(installed, tried))) return installed;

  const own = chromium.executablePath();
  if (await works(own, tried)) return own;
  const folder = dirname(createRequire(import.meta.url).resolve('playwright-core/package.json'));
  const fetched = run(process.execPath, [join(folder, 'cli.js'), 'install', 'chromium'], tried);
  if (fetched && (await works(own, tried))) return own;

  if (isRoot && existsSync('/etc/debian_version')) {
    run('apt-get', ['update'], tried);
    run('apt-get', ['install', '-y', '--no-install-recommends', 'chromium'], tried);
    const packaged = findBrowser({ ...thisSearch(), env: { PATH: process.env['PATH'] } });
    if (packaged !== null && (await works(packaged, tried))) return packaged;
  }
  throw new Error([HELP, ...tried.map((line) => `  tried: ${line}`)].join('\n'));
}
