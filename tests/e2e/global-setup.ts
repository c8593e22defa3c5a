import { spawnSync } from 'node:child_process';
import { readdirSync, statSync } from 'node:fs';
import { join, resolve } from 'node:path';
import type { TestProject } from 'vitest/node';
import { ensureBrowser } from './browser.ts';

const ROOT = resolve(import.meta.dirname, '../..');
const SOURCES = ['core', 'electron', 'renderer', 'electron.vite.config.ts', 'package.json'];
const BUILT = ['out/main/start.js', 'out/preload/preload.cjs', 'out/renderer/index.html'];

declare module 'vitest' {
  interface ProvidedContext {
    browserPath: string;
  }
}

/** Builds the program if its sources are newer than what was built, and finds a browser. */
export default async function setup(project: TestProject): Promise<void> {
  if (isStale()) {
    const { status } = spawnSync('npm', ['run', '-s', 'build'], { cwd: ROOT, stdio: 'inherit' });
    if (status !== 0) throw new Error('the program could not be built (npm run build says why)');
  }
  project.provide('browserPath', await ensureBrowser());
}

function isStale(): boolean {
  const built = BUILT.map((path) => changedAt(join(ROOT, path)));
  return Math.max(...SOURCES.map((path) => newestIn(join(ROOT, path)))) > Math.min(...built);
}

function newestIn(path: string): number {
  const stat = statSync(path);
  if (!stat.isDirectory()) return stat.mtimeMs;
  return Math.max(
    stat.mtimeMs,
    ...readdirSync(path, { withFileTypes: true }).map((entry) =>
      entry.isDirectory() ? newestIn(join(path, entry.name)) : changedAt(join(path, entry.name)),
    ),
  );
}

/** When a file was changed; long ago where there is none. */
function changedAt(path: string): number {
  return statSync(path, { throwIfNoEntry: false })?.mtimeMs ?? 0;
}
