import { mkdirSync, mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { findBrowser } from '../../../../electron/host/browser.ts';
import {
  findElectron,
  hasDisplay,
  type Machine,
} from '../../../../electron/host/electron-binary.ts';

/** A folder like the installed package, with or without the fetched program. */
function electronFolder(fetched: boolean): string {
  const folder = mkdtempSync(join(tmpdir(), 'electron-'));
  if (fetched) {
    mkdirSync(join(folder, 'dist'));
    writeFileSync(join(folder, 'dist/electron'), '');
    writeFileSync(join(folder, 'path.txt'), 'electron');
  }
  return folder;
}

const machine = (over: Partial<Machine>): Machine => ({
  env: { DISPLAY: ':0' },
  platform: 'linux',
  isRoot: false,
  electronFolder: () => electronFolder(true),
  ...over,
});

describe('findElectron', () => {
  it('finds a program that was fetched', () => {
    expect(findElectron(machine({})).path).toMatch(/dist.electron$/);
  });

  it.each([
    ['not installed', { electronFolder: () => null }],
    ['not been fetched', { electronFolder: () => electronFolder(false) }],
    ['no display', { env: {} }],
    ['as root', { isRoot: true }],
    ['asked for', { env: { DISPLAY: ':0', STILLPOINT_HOST: 'loopback' } }],
  ] satisfies [string, Partial<Machine>][])('says why it cannot: %s', (why, over) => {
    const found = findElectron(machine(over));
    expect(found.path).toBeNull();
    expect(found.why).toContain(why);
  });

  it('misses a program that path.txt names and that is gone', () => {
    const folder = electronFolder(false);
    writeFileSync(join(folder, 'path.txt'), 'electron');
    expect(findElectron(machine({ electronFolder: () => folder })).why).toContain('missing');
  });
});

describe('hasDisplay', () => {
  it('knows X11 and Wayland, and that other systems always have one', () => {
    expect(hasDisplay({ platform: 'linux', env: {} })).toBe(false);
    expect(hasDisplay({ platform: 'linux', env: { WAYLAND_DISPLAY: 'w' } })).toBe(true);
    expect(hasDisplay({ platform: 'darwin', env: {} })).toBe(true);
  });
});

describe('findBrowser', () => {
  const search = (env: NodeJS.ProcessEnv, programs: string[]) => ({
    env,
    platform: 'linux' as const,
    isProgram: (path: string) => programs.includes(path),
  });

  it('looks along the search path by name', () => {
    expect(findBrowser(search({ PATH: '/a:/b' }, ['/b/google-chrome', '/b/other']))).toBe(
      '/b/google-chrome',
    );
    expect(findBrowser(search({ PATH: '/a:/b' }, ['/b/other']))).toBeNull();
  });

  it('takes the one that was named, and no other in its place', () => {
    const env = { PATH: '/a', CHROMIUM_PATH: '/my/own' };
    expect(findBrowser(search(env, ['/my/own', '/a/chromium']))).toBe('/my/own');
    expect(findBrowser(search(env, ['/a/chromium']))).toBeNull();
  });
});
