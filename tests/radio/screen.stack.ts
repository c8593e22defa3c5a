import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { AxeBuilder } from '@axe-core/playwright';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { SessionView } from '../../electron/bridge/views.ts';
import { startLoopback, type LoopbackHost } from '../../electron/bridge/loopback.ts';
import { listStaticFiles } from '../../electron/bridge/static-files.ts';
import { forkSpawner } from '../../electron/radio/spawner.ts';
import { createServices, type Services } from '../../electron/services/app.ts';
import { PASCAL_PER_PSI } from '../../core/units/pressure.ts';
import { ensureBrowser, launch } from '../e2e/browser.ts';
import { buildProgram, type BuiltProgram } from '../e2e/program.ts';
import { testUnit } from '../support/job.ts';
import { sleep, until } from './rig.ts';
import { World } from './world.ts';

/*
 * The whole program, from a virtual sensor of another Bluetooth stack to the screen in a real
 * browser and to the recording. The screens are built for this test alone.
 */
const SCREENSHOT = process.env['RADIO_SCREENSHOT'] ?? '';

let world: World;
let program: BuiltProgram;
let services: Services;
let host: LoopbackHost;
let browser: Browser;
let page: Page;
let home: string;
const problems: string[] = [];

beforeAll(async () => {
  program = buildProgram();
  world = await World.start(process.env['RADIO_PYTHON'] ?? '');
  process.env['CONTROLLER_PORT'] = String(world.port);
  home = mkdtempSync(join(tmpdir(), 'radio-screen-'));
  services = createServices({
    host: 'loopback',
    root: program.root,
    env: { STILLPOINT_HOME: home },
    spawnRadio: (log) => forkSpawner(join(import.meta.dirname, 'bumble-worker.ts'), log),
  });
  host = await startLoopback({
    ...services,
    files: listStaticFiles(join(program.root, 'out/renderer')),
    report: (what, error) => problems.push(`${what}: ${String(error)}`),
  });
  await call('job.create', {
    title: 'Annual visit',
    site: { name: 'Workshop', address: '', altitude_m: 500 },
    complaint: '',
    units: [UNIT],
  });
  browser = await launch(await ensureBrowser());
  page = await (await browser.newContext({ viewport: { width: 1366, height: 900 } })).newPage();
  page.on('pageerror', (error) => problems.push(error.message));
  page.on('console', (message) => {
    if (message.type() === 'error') problems.push(message.text());
  });
  await page.goto(host.address);
  await page.getByRole('button', { name: 'Sensors' }).click();
}, 120_000);

afterAll(async () => {
  await browser.close();
  await services.close();
  await host.close();
  await world.stop();
  program.remove();
  rmSync(home, { recursive: true });
});

const UNIT = testUnit({ name: 'Roof east' });

async function call(name: string, args: object): Promise<unknown> {
  const result = await services.handlers.dispatch(name, args);
  if (!result.ok) throw new Error(JSON.stringify(result.error));
  return result.value;
}

const card = () => page.getByRole('article', { name: 'Manifold A' });

describe('the sensors room', () => {
  it('finds a sensor and adds it', async () => {
    await page.getByRole('button', { name: 'Add Manifold A 0001' }).click();
    await card()
      .getByRole('row', { name: /Suction pressure/ })
      .waitFor();
    await expectText(() => card().innerText(), /Good/);
    await expectText(() => card().innerText(), /Battery\s+83 %/);
    await expectText(() => card().innerText(), /Maker\s+Nobody in particular/);
  });

  it('asks for gauge or absolute before a pressure goes anywhere', async () => {
    const channel = card().getByLabel('Suction pressure: channel');
    expect(await channel.isDisabled()).toBe(true);
    await card().getByLabel('Suction pressure: gauge or absolute').selectOption('gauge');
    await card().getByRole('button', { name: 'Suction pressure?' }).click();
    await until('assigned', async () => (await channel.inputValue()) === 'A/suctionPressure');
    await card().getByLabel('Liquid line: channel').selectOption('A/liquidLineTemp');
    // 813 600 Pa and 35.30 °C, as the virtual sensor has them.
    await expectText(() => card().innerText(), /118\.0 psi/);
    await expectText(() => card().innerText(), /95\.5 °F/);
  });

  it('refuses to zero a gauge under pressure, and says why', async () => {
    for (let i = 0; i < 24; i += 1) {
      await world.order('manifold', 'send', { key: 'pressure1', hex: '40257c00' });
      await sleep(0.5);
    }
    await card().getByRole('button', { name: 'Check the zero of Suction pressure' }).click();
    await card().getByRole('button', { name: 'It is open to the air: set zero' }).click();
    await page.getByRole('alert').filter({ hasText: 'more than a zero error' }).waitFor();
    await page.getByRole('button', { name: 'Dismiss' }).click();
  });

  it('renames a sensor and remembers it on the disk', async () => {
    await card().getByRole('button', { name: 'Rename Manifold A' }).click();
    await page.getByLabel('Name', { exact: true }).fill('Two hoses');
    await page.keyboard.press('Enter');
    await page.getByRole('article', { name: 'Two hoses' }).waitFor();
    const stored = readFileSync(join(services.paths.sensors, 'sensors.json'), 'utf8');
    expect(stored).toContain('"Two hoses"');
    expect(stored).toContain('"liquidLineTemp"');
  });

  it('can be used by everyone, as far as axe can tell', async () => {
    if (SCREENSHOT !== '') await page.screenshot({ path: SCREENSHOT, fullPage: true });
    const { violations } = await new AxeBuilder({ page })
      .withTags(['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'])
      .analyze();
    expect(violations.map((v) => `${v.id}: ${v.nodes.map((n) => n.html).join(' | ')}`)).toEqual([]);
    expect(problems).toEqual([]);
  });
});

describe('a session over the radio', () => {
  it('records the assigned channels and no others', async () => {
    await call('session.start', { source: { kind: 'radio' } });
    await until('both channels', async () => {
      await world.order('manifold', 'send', { key: 'pressure1', hex: '40257c00' });
      const view = (await call('session.current', { role: 'live' })) as SessionView;
      const { channels } = view.units[0]!.state;
      const { suctionPressure, liquidLineTemp } = channels;
      return [suctionPressure, liquidLineTemp].every((c) => typeof c?.value === 'number');
    });
    const view = (await call('session.current', { role: 'live' })) as SessionView;
    const { channels } = view.units[0]!.state;
    const { gauge, atmosphere } = view.units[0]!.config;
    expect(gauge).toEqual({ channels: ['suctionPressure'], convertedWith: atmosphere.pressure });
    expect(channels.suctionPressure?.value).toBeCloseTo(813_600 + atmosphere.pressure, 3);
    expect(813_600 / PASCAL_PER_PSI).toBeCloseTo(118.0, 1);
    expect(channels.liquidPressure?.value ?? null).toBeNull();
    expect(view.health).toEqual({ state: 'running', alert: null });
    await call('session.stop', {});
  });
});

async function expectText(read: () => Promise<string>, pattern: RegExp): Promise<void> {
  let text = '';
  await until(`${pattern}`, async () => pattern.test((text = await read()))).catch(
    (error: unknown) => {
      throw new Error(`${String(error)} in:\n${text}`);
    },
  );
}
