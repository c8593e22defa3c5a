import { spawn, type ChildProcess } from 'node:child_process';
import { once } from 'node:events';
import { mkdtempSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, inject } from 'vitest';
import { connectBridge, type Bridge } from '../../electron/bridge/client.ts';
import type { CommandArgs, CommandName, CommandResults } from '../../electron/bridge/commands.ts';
import { say } from '../../electron/bridge/errors.ts';
import { launch } from './browser.ts';
import { nodePage } from '../support/node-page.ts';

const START_LIMIT_MS = 20_000;

/** The real program, started as `npm start` starts it, on a data folder of its own. */
export interface Host {
  /** The address it printed, with the key. */
  readonly url: string;
  readonly origin: string;
  readonly home: string;
  readonly output: () => string;
  /** Ctrl-C; resolves with the exit code when it has ended. */
  readonly stop: () => Promise<number | null>;
  /** kill -9: as if the plug were pulled. */
  readonly kill: () => Promise<void>;
}

/** A fresh data folder. */
export function freshHome(): string {
  return mkdtempSync(join(tmpdir(), 'stillpoint-e2e-'));
}

/**
 * Starts the built program with the loopback host.
 *
 * @param home data folder; a fresh one by default
 * @param root folder of the built program; the one built for this run by default
 * @throws Error with what the program printed when it does not come up
 */
export async function startHost(
  home: string = freshHome(),
  root: string = inject('programRoot'),
): Promise<Host> {
  const child = spawn(process.execPath, [join(root, 'out/main/start.js')], {
    env: {
      ...process.env,
      STILLPOINT_HOST: 'loopback',
      STILLPOINT_NO_BROWSER: '1',
      STILLPOINT_HOME: home,
    },
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  let output = '';
  child.stdout.on('data', (data: Buffer) => (output += data.toString()));
  child.stderr.on('data', (data: Buffer) => (output += data.toString()));
  const url = await printedAddress(child, () => output);
  return {
    url,
    origin: new URL(url).origin,
    home,
    output: () => output,
    stop: () => end(child, 'SIGINT'),
    kill: async () => {
      await end(child, 'SIGKILL');
    },
  };
}

async function printedAddress(child: ChildProcess, output: () => string): Promise<string> {
  const until = Date.now() + START_LIMIT_MS;
  for (;;) {
    const url = /^Stillpoint: (http\S+)$/m.exec(output())?.[1];
    if (url !== undefined) return url;
    if (child.exitCode !== null || Date.now() > until) {
      child.kill('SIGKILL');
      throw new Error(`the program did not come up:\n${output()}`);
    }
    await new Promise((done) => setTimeout(done, 50));
  }
}

async function end(child: ChildProcess, signal: NodeJS.Signals): Promise<number | null> {
  if (child.exitCode !== null || child.signalCode !== null) return child.exitCode;
  const exited = once(child, 'exit');
  child.kill(signal);
  await exited;
  return child.exitCode;
}

/** The screens' own client, joined to a host from Node: what the screens can do, without them. */
export function connect(host: Host): Bridge {
  return connectBridge(nodePage(host.url));
}

/** Runs a command that must succeed. */
export async function must<C extends CommandName>(
  bridge: Bridge,
  name: C,
  args: CommandArgs<C>,
): Promise<CommandResults[C]> {
  const result = await bridge.call(name, args);
  if (!result.ok) throw new Error(`${name}: ${say(result.error)}`);
  return result.value;
}

/** A function that starts hosts; they end with the test that started them. */
export function hostsPerTest(): (home?: string) => Promise<{ host: Host; bridge: Bridge }> {
  const hosts: Host[] = [];
  afterEach(async () => {
    for (const host of hosts.splice(0)) await host.stop();
  });
  return async (home) => {
    const host = await startHost(home);
    hosts.push(host);
    return { host, bridge: connect(host) };
  };
}

/**
 * One host and one page on it for all tests of a file.
 *
 * @param ready is given both before the first test
 */
export function onePage(ready: (open: OpenPage, host: Host) => void | Promise<void>): void {
  let end: () => Promise<void> = () => Promise.resolve();
  beforeAll(async () => {
    const host = await startHost();
    const open = await openPage(host);
    end = async () => {
      await open.close();
      await closeBrowser();
      await host.stop();
    };
    await ready(open, host);
  });
  afterAll(() => end());
}

/** A page of a real browser on the program. */
export interface OpenPage {
  readonly page: Page;
  /** Errors of the page so far: uncaught exceptions, console errors, breaches of the policy. */
  readonly problems: () => readonly string[];
  readonly close: () => Promise<void>;
}

let browser: Promise<Browser> | null = null;

/** Opens the program in the browser that the set-up found; one browser serves all pages of a file. */
export async function openPage(
  host: Host,
  viewport = { width: 1366, height: 768 },
): Promise<OpenPage> {
  browser ??= launch(inject('browserPath'));
  const context = await (await browser).newContext({ viewport, locale: 'en-US' });
  const page = await context.newPage();
  const problems: string[] = [];
  page.on('pageerror', (error) => problems.push(error.message));
  page.on('console', (message) => {
    if (message.type() === 'error') problems.push(message.text());
  });
  await page.goto(host.url);
  return { page, problems: () => problems, close: () => context.close() };
}

/** Closes the browser; for `afterAll`. */
export async function closeBrowser(): Promise<void> {
  await (await browser)?.close();
  browser = null;
}

/** Waits until `probe` gives something other than null or false. */
export async function until<T>(
  probe: () => T | null | false | Promise<T | null | false>,
  what: string,
  limitMs = 30_000,
): Promise<T> {
  const end = Date.now() + limitMs;
  for (;;) {
    const found = await probe();
    if (found !== null && found !== false) return found;
    if (Date.now() > end) throw new Error(`waited in vain for ${what}`);
    await new Promise((done) => setTimeout(done, 50));
  }
}
