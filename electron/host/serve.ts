import { join } from 'node:path';
import { startLoopback } from '../bridge/loopback.ts';
import { listStaticFiles } from '../bridge/static-files.ts';
import { forkSpawner, radioEntry } from '../radio/spawner.ts';
import { createServices } from '../services/app.ts';

/** The program serving its screens to this machine, until it is told to end. */
export interface ServedProgram {
  readonly address: string;
  readonly ticketAddress: () => string;
  readonly jobs: string;
  /** Resolves when all is on the disk and closed after Ctrl-C or a signal to end. */
  readonly ended: Promise<void>;
}

/**
 * Starts the services and the loopback host over them.
 *
 * @param options.root folder of the program: the built screens are in out/renderer
 * @throws Error when the screens are not there or no port can be had
 */
export async function serveLoopback(options: {
  readonly root: string;
  readonly env: NodeJS.ProcessEnv;
}): Promise<ServedProgram> {
  const services = createServices({
    host: 'loopback',
    spawnRadio: (log) => forkSpawner(radioEntry(options.root), log),
    ...options,
  });
  const host = await startLoopback({
    ...services,
    files: listStaticFiles(join(options.root, 'out/renderer')),
    report: (what, error) => services.log.error(what, error),
  });
  return {
    address: host.address,
    ticketAddress: host.ticketAddress,
    jobs: services.paths.jobs,
    ended: endOnSignal(async () => {
      await services.close();
      await host.close();
    }, services.log.error),
  };
}

/** Ends cleanly on the first signal; a second one ends at once. */
function endOnSignal(
  close: () => Promise<void>,
  report: (what: string, error: unknown) => void,
): Promise<void> {
  return new Promise((resolve) => {
    let ending = false;
    const end = (): void => {
      if (ending) process.exit(130);
      ending = true;
      close()
        .catch((error: unknown) => report('closing', error))
        .finally(resolve);
    };
    for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP'] as const) process.on(signal, end);
    process.on('uncaughtException', (error) => {
      // Nothing is known of the state any more: what was recorded is on the disk, so end.
      report('uncaught', error);
      process.exitCode = 1;
      process.stderr.write(`Stillpoint failed inside: ${error.message}. The log has more.\n`);
      end();
    });
  });
}
