import { readFileSync } from 'node:fs';
import { COMMANDS } from '../bridge/commands.ts';
import type { Settings } from '../bridge/views.ts';
import { writeAtomically } from './atomic-file.ts';

const DEFAULTS: Settings = { units: 'us', author: '', sound: true };

/** The user's settings: one small JSON file, always whole on the disk. */
export interface SettingsStore {
  get(): Settings;
  /** @throws Error when the disk says no */
  set(settings: Settings): Settings;
}

/**
 * @param file where they are kept; absent means the defaults
 * @param onDamage is told when the file cannot be understood; it is then left until the next change
 */
export function createSettings(file: string, onDamage: (why: string) => void): SettingsStore {
  let current = read(file, onDamage);
  return {
    get: () => current,
    set(settings) {
      writeAtomically(file, `${JSON.stringify(settings, null, 2)}\n`);
      current = settings;
      return current;
    },
  };
}

function read(file: string, onDamage: (why: string) => void): Settings {
  let text: string;
  try {
    text = readFileSync(file, 'utf8');
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== 'ENOENT') onDamage(String(error));
    return DEFAULTS;
  }
  try {
    return COMMANDS['settings.set'].parse(JSON.parse(text));
  } catch (error) {
    onDamage(String(error));
    return DEFAULTS;
  }
}
