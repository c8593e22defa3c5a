import { spawn } from 'node:child_process';
import { findElectron, hasDisplay, thisMachine } from './host/electron-binary.ts';
import { findBrowser, openInBrowser, thisSearch } from './host/browser.ts';
import { programRoot } from './host/root.ts';
import { serveLoopback } from './host/serve.ts';

/** An Electron that ends with an error sooner than this never showed its window. */
const FAILED_AT_ONCE_MS = 5000;
const ROOT = programRoot(import.meta.dirname);

const say = (text: string): void => void process.stdout.write(`${text}\n`);

/** `npm start`: Electron where its program can be used, else the same screens on this machine. */
async function start(): Promise<void> {
  const electron = findElectron(thisMachine());
  const why = electron.path === null ? electron.why : await runElectron(electron.path);
  if (why === null) return;
  say(`Without Electron (${why}): serving the screens to this machine only.`);
  const host = await serveLoopback({ root: ROOT, env: process.env });
  say(`Stillpoint: ${host.address}`);
  say(`Jobs are kept in ${host.jobs}. Ctrl-C ends the program.`);
  openBrowser(host.ticketAddress);
  await host.ended;
  process.exit();
}

/** Runs Electron until it ends; null, or why it could not start. */
function runElectron(path: string): Promise<string | null> {
  const began = Date.now();
  const child = spawn(path, [ROOT], { stdio: 'inherit' });
  // Both get Ctrl-C from the terminal; this one waits until the other has ended cleanly.
  const ignore = (): void => undefined;
  process.on('SIGINT', ignore);
  const forward = (): void => void child.kill('SIGTERM');
  process.on('SIGTERM', forward);
  return new Promise((done) => {
    const end = (why: string | null): void => {
      process.off('SIGINT', ignore);
      process.off('SIGTERM', forward);
      done(why);
    };
    child.once('error', (error) => end(error.message));
    child.once('exit', (code, signal) => {
      const failed = code !== 0 && signal === null && Date.now() - began < FAILED_AT_ONCE_MS;
      if (!failed) process.exitCode = code ?? 1;
      end(failed ? `it ended at once with code ${code ?? 'none'}` : null);
    });
  });
}

function openBrowser(ticketAddress: () => string): void {
  const machine = thisMachine();
  if (machine.env['STILLPOINT_NO_BROWSER'] === '1' || !hasDisplay(machine)) return;
  const browser = findBrowser(thisSearch());
  if (browser === null) {
    say('No browser was found to open it in: open the address by hand.');
    return;
  }
  if (machine.isRoot) say('As root the browser is opened without its sandbox.');
  openInBrowser(browser, ticketAddress(), machine.isRoot, (why) =>
    say(`The browser could not be opened (${why}): open the address by hand.`),
  );
}

start().catch((error: unknown) => {
  process.stderr.write(`Stillpoint could not start: ${String(error)}\n`);
  process.exit(1);
});
