import { homedir } from 'node:os';
import { join, resolve } from 'node:path';

/** Where the program keeps its things. */
export interface Paths {
  readonly home: string;
  readonly jobs: string;
  readonly sensors: string;
  readonly settings: string;
  readonly log: string;
}

/** `Stillpoint` in the user's home; the variable STILLPOINT_HOME names another folder. */
export function pathsFrom(env: NodeJS.ProcessEnv): Paths {
  const chosen = env['STILLPOINT_HOME'];
  const home =
    chosen === undefined || chosen === '' ? join(homedir(), 'Stillpoint') : resolve(chosen);
  return {
    home,
    jobs: join(home, 'jobs'),
    sensors: join(home, 'sensors'),
    settings: join(home, 'settings.json'),
    log: join(home, 'stillpoint.log'),
  };
}
