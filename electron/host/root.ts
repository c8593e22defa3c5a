import { existsSync } from 'node:fs';
import { dirname, join } from 'node:path';

/**
 * The folder of the program: the nearest one above with a package.json, so that it is found from
 * the sources and from what was built of them.
 *
 * @throws Error when there is none
 */
export function programRoot(from: string): string {
  for (let folder = from; ; folder = dirname(folder)) {
    if (existsSync(join(folder, 'package.json'))) return folder;
    if (folder === dirname(folder)) throw new Error(`no package.json above ${from}`);
  }
}
