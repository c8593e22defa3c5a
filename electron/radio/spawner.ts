import { fork } from 'node:child_process';
import { join } from 'node:path';

/** The radio process as the program sees it. */
export interface RadioProcess {
  send(message: unknown): void;
  onMessage(fn: (message: unknown) => void): void;
  /** Called once, with why it ended. */
  onExit(fn: (why: string) => void): void;
  /** Ends it at once. */
  kill(): void;
}

/** Starts a radio process. */
export type RadioSpawner = () => RadioProcess;

/**
 * The radio process as a child of Node. A TypeScript entry is run through tsx, as the program's own
 * sources are in development and in tests.
 *
 * @param path the file of the process
 * @param onLog what the process writes on its error output
 */
export function forkSpawner(
  path: string,
  onLog: (text: string) => void = () => undefined,
): RadioSpawner {
  return () => {
    const child = fork(path, {
      execArgv: path.endsWith('.ts') ? ['--import', 'tsx'] : [],
      stdio: ['ignore', 'ignore', 'pipe', 'ipc'],
    });
    child.stderr?.on('data', (data: Buffer) => onLog(data.toString('utf8')));
    return {
      send: (message) => {
        // The child may have ended a moment ago; its exit is told elsewhere.
        if (child.connected) child.send(message as object, () => undefined);
      },
      onMessage: (fn) => child.on('message', fn),
      onExit: (fn) => {
        child.once('exit', (code, signal) => fn(signal ?? `code ${code ?? 'none'}`));
        child.once('error', (error) => fn(error.message));
      },
      kill: () => child.kill('SIGKILL'),
    };
  };
}

/**
 * The file of the radio process: the source where the program runs from its sources, else what was
 * built of it.
 *
 * @param root folder of the program
 */
export function radioEntry(root: string): string {
  const isSource = import.meta.url.endsWith('.ts');
  return join(root, isSource ? 'electron/radio/worker.ts' : 'out/main/worker.js');
}

/** What is used of Electron's `utilityProcess`, so that only the entry imports Electron. */
export interface UtilityForker {
  fork(
    path: string,
    args: string[],
    options: { serviceName: string },
  ): {
    postMessage(message: unknown): void;
    on(event: 'message', fn: (message: unknown) => void): unknown;
    once(event: 'exit', fn: (code: number) => void): unknown;
    kill(): boolean;
  };
}

/** The radio process as an Electron utility process. */
export function utilitySpawner(utility: UtilityForker, path: string): RadioSpawner {
  return () => {
    const child = utility.fork(path, [], { serviceName: 'radio' });
    return {
      send: (message) => child.postMessage(message),
      onMessage: (fn) => void child.on('message', fn),
      onExit: (fn) => void child.once('exit', (code) => fn(`code ${code}`)),
      kill: () => void child.kill(),
    };
  };
}
