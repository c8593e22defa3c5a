import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { ok } from '../../core/result.ts';
import { createHandlers, type Handlers } from '../bridge/handlers.ts';
import { createHub, type Hub, type HubEvent } from '../bridge/hub.ts';
import type { AppInfo } from '../bridge/views.ts';
import { systemClock, type Clock } from './clock.ts';
import { createLog, type Log } from './log.ts';
import { pathsFrom, type Paths } from './paths.ts';
import { createSettings } from './settings.ts';

/** The program without a window: what both hosts and the tests run. */
export interface Services {
  readonly paths: Paths;
  readonly log: Log;
  readonly handlers: Handlers;
  readonly hub: Hub;
  /** The events that tell a new client how things stand. */
  readonly greet: () => readonly HubEvent[];
  /** Ends what runs and brings everything to the disk. */
  close(): Promise<void>;
}

interface ServicesOptions {
  readonly host: AppInfo['host'];
  /** Folder of the program. */
  readonly root: string;
  readonly env: NodeJS.ProcessEnv;
  readonly clock?: Clock;
}

/** Builds the program: every command of the bridge gets its one handler here. */
export function createServices(options: ServicesOptions): Services {
  const clock = options.clock ?? systemClock;
  const paths = pathsFrom(options.env);
  const log = createLog(paths.log, clock);
  const hub = createHub(log.error);
  const handlers = createHandlers(log.error);
  const version = versionOf(options.root);
  const settings = createSettings(paths.settings, (why) => log.error('settings', why));

  handlers.handle('app.info', () => ok({ version, host: options.host, jobsFolder: paths.jobs }));
  handlers.handle('settings.get', () => ok(settings.get()));
  handlers.handle('settings.set', (args) => ok(settings.set(args)));

  return {
    paths,
    log,
    handlers,
    hub,
    greet: () => [],
    close: () => Promise.resolve(),
  };
}

function versionOf(root: string): string {
  const text = readFileSync(join(root, 'package.json'), 'utf8');
  return (JSON.parse(text) as { version: string }).version;
}
