import { spawnSync } from 'node:child_process';
import { copyFileSync, mkdtempSync, rmSync, symlinkSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';

const SOURCES = resolve(import.meta.dirname, '../..');

/** A build of the program for one run of tests. */
export interface BuiltProgram {
  /** Its folder, as a checkout after `npm run build`. */
  readonly root: string;
  remove(): void;
}

/**
 * Builds the program into a folder of its own, so that neither an old build nor another one that is
 * made meanwhile can be tested by mistake.
 *
 * @throws Error when it cannot be built
 */
export function buildProgram(): BuiltProgram {
  const root = mkdtempSync(join(tmpdir(), 'stillpoint-built-'));
  const { status } = spawnSync(
    'npm',
    ['run', '-s', 'build', '--', '--logLevel', 'error', '--outDir', join(root, 'out')],
    {
      cwd: SOURCES,
      stdio: ['ignore', 'ignore', 'inherit'],
    },
  );
  if (status !== 0) throw new Error('the program could not be built: npm run build says why');
  copyFileSync(join(SOURCES, 'package.json'), join(root, 'package.json'));
  for (const folder of ['node_modules', 'fixtures']) {
    symlinkSync(join(SOURCES, folder), join(root, folder), 'dir');
  }
  return { root, remove: () => rmSync(root, { recursive: true, force: true }) };
}
