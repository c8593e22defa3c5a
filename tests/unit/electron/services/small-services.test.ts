import { existsSync, mkdtempSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { homedir, tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { writeAtomically } from '../../../../electron/services/atomic-file.ts';
import { systemClock } from '../../../../electron/clock.ts';
import { createLog } from '../../../../electron/services/log.ts';
import { pathsFrom } from '../../../../electron/services/paths.ts';
import { createSettings } from '../../../../electron/services/settings.ts';

const folder = (): string => mkdtempSync(join(tmpdir(), 'stillpoint-'));

describe('pathsFrom', () => {
  it('uses the home folder unless another is named', () => {
    expect(pathsFrom({}).jobs).toBe(join(homedir(), 'Stillpoint', 'jobs'));
    expect(pathsFrom({ STILLPOINT_HOME: '/data' }).settings).toBe('/data/settings.json');
  });
});

describe('createSettings', () => {
  const changed = { units: 'si', author: 'A. Person', sound: false } as const;

  it('keeps them over a restart', () => {
    const file = join(folder(), 'new/settings.json');
    expect(createSettings(file, () => undefined).get().units).toBe('us');
    createSettings(file, () => undefined).set(changed);
    expect(createSettings(file, () => undefined).get()).toEqual(changed);
  });

  it('falls back on the defaults and says so when the file is damaged, and leaves it there', () => {
    const file = join(folder(), 'settings.json');
    writeFileSync(file, '{"units":"furlongs"}');
    const said: string[] = [];
    expect(createSettings(file, (why) => said.push(why)).get().units).toBe('us');
    expect(said).toHaveLength(1);
    expect(readFileSync(file, 'utf8')).toBe('{"units":"furlongs"}');
  });

  it('does not believe in a change the disk refused', () => {
    const place = folder();
    writeFileSync(join(place, 'file'), '');
    const settings = createSettings(join(place, 'file/settings.json'), () => undefined);
    expect(() => settings.set(changed)).toThrow();
    expect(settings.get().units).toBe('us');
  });
});

describe('writeAtomically', () => {
  it('leaves the old file and no rest when it cannot write', () => {
    const place = folder();
    const file = join(place, 'a.json');
    writeAtomically(file, 'one');
    writeAtomically(file, 'two');
    expect(readFileSync(file, 'utf8')).toBe('two');
    expect(() => writeAtomically(place, 'three')).toThrow();
    expect(readdirSync(place)).toEqual(['a.json']);
  });
});

describe('createLog', () => {
  it('appends, and begins anew after a megabyte', () => {
    const file = join(folder(), 'logs/stillpoint.log');
    const log = createLog(file, { ...systemClock, now: () => 0 });
    log.error('here', new Error('it broke'));
    expect(readFileSync(file, 'utf8')).toMatch(
      /^1970-01-01T00:00:00.000Z error here: Error: it broke/,
    );
    log.info('x'.repeat(1_000_001));
    log.info('after');
    expect(readFileSync(file, 'utf8')).toContain('after');
    expect(readFileSync(file, 'utf8').length).toBeLessThan(100);
    expect(existsSync(`${file}.1`)).toBe(true);
  });
});
