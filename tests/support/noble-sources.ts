import { execFileSync } from 'node:child_process';
import { existsSync, readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { join } from 'node:path';

const ROOT = join(import.meta.dirname, '..', '..');
const CACHE = join(ROOT, '.cache', 'noble');

function wanted(): string {
  const lock = JSON.parse(readFileSync(join(ROOT, 'package-lock.json'), 'utf8')) as {
    packages: Record<string, { version?: string } | undefined>;
  };
  const version = lock.packages['node_modules/@abandonware/noble']?.version;
  if (version === undefined) throw new Error('the lock file names no version of noble');
  return version;
}

/**
 * A `require` that finds noble's JavaScript. npm leaves the optional package out where its native
 * part cannot be built; the tests need none of that part, so there its sources are installed, the
 * same version and without building, into a cache of the tests' own.
 *
 * @throws Error with npm's words when the registry cannot be reached either
 */
export function requireNoble(): NodeJS.Require {
  const ours = createRequire(import.meta.url);
  try {
    ours.resolve('@abandonware/noble/package.json');
    return ours;
  } catch {
    const version = wanted();
    const manifest = join(CACHE, 'node_modules/@abandonware/noble/package.json');
    if (!existsSync(manifest)) {
      const npm = process.platform === 'win32' ? 'npm.cmd' : 'npm';
      const flags = ['--prefix', CACHE, '--ignore-scripts', '--no-audit', '--no-fund'];
      execFileSync(npm, ['install', ...flags, `@abandonware/noble@${version}`], { stdio: 'pipe' });
    }
    return createRequire(manifest);
  }
}
