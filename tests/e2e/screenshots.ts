import { mkdirSync } from 'node:fs';
import { join, resolve } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { ensureBrowser, launch } from './browser.ts';
import { startHost } from './harness.ts';
import { buildProgram } from './program.ts';
import { goTo, openDemonstration, startScenario, waitForState } from './steps.ts';

/**
 * Takes a picture of every screen of the real program at both sizes it is made for, light and dark:
 * `npm run screenshots -- FOLDER` (default: out/screens).
 */
const SIZES = [
  { width: 1366, height: 768 },
  { width: 1920, height: 1080 },
];
const FORECAST_AT_S = 20;
/** Time for charts to be drawn after a jump, ms. */
const DRAWN_MS = 1500;

/** A table whose pressure has no unit that says what it counts from. */
const REFUSED = 'time[s],suctionPressure[psi]\n0,118\n';

type Shoot = (name: string) => Promise<void>;

async function shootStart(page: Page, shoot: Shoot): Promise<void> {
  await page.getByRole('heading', { name: 'Which job?' }).waitFor();
  await shoot('start');
  await page.getByRole('button', { name: 'New job' }).click();
  await shoot('new-job');
  await page.getByLabel('Title').fill('Warm upstairs, two calls in a week');
  await page.getByRole('button', { name: 'Create job' }).click();
  await goTo(page, 'Watch');
  await page.getByLabel('Table (CSV)').setInputFiles({
    name: 'log.csv',
    mimeType: 'text/csv',
    buffer: Buffer.from(REFUSED),
  });
  await page.getByText('Nothing was imported').waitFor();
  await shoot('source-refused');
  await page.getByRole('button', { name: 'Your name' }).click();
  await shoot('settings');
  await page.keyboard.press('Escape');
  await goTo(page, 'Job');
  await page.getByRole('button', { name: 'Close job' }).click();
  await page.getByRole('heading', { name: 'Which job?' }).waitFor();
  await shoot('start-jobs');
  await openDemonstration(page);
  await page.getByLabel('Scenario').waitFor();
  await shoot('source');
}

/** A settling unit: on the way, and still with a snapshot taken. */
async function shootWatch(page: Page, shoot: Shoot): Promise<void> {
  await startScenario(page, 'Healthy start', 30);
  await waitForState(page, 'Starting');
  await page.waitForTimeout((FORECAST_AT_S / 2) * 1000);
  await shoot('watch-moving');
  await page.keyboard.press('s');
  await page.getByLabel('Speed of the session').selectOption('200');
  await waitForState(page, 'Still');
  await page.getByLabel('Speed of the session').selectOption('30');
  await page.waitForTimeout(6000);
  await page.getByRole('radio', { name: 'After' }).click();
  await page.locator('.closing').click();
  await shoot('watch');
  await page.keyboard.press('s');
  await page.waitForTimeout(500);
  await page.getByRole('button', { name: 'What do they say?' }).click();
  await page.waitForTimeout(DRAWN_MS);
  await shoot('judgement');
  await page.keyboard.press('Escape');
  await page.getByRole('button', { name: '°C barg' }).click();
  await page.waitForTimeout(DRAWN_MS);
  await shoot('watch-bar');
  await page.getByRole('button', { name: '°F psig' }).click();
  await page.getByRole('button', { name: 'Stop session' }).click();
}

async function shootRecord(page: Page, shoot: Shoot): Promise<void> {
  await goTo(page, 'Job');
  await page.locator('.snapshot').first().waitFor();
  await page.waitForTimeout(DRAWN_MS);
  await shoot('job');
  await page.getByRole('button', { name: 'Edit unit' }).first().click();
  await shoot('unit');
  await page.keyboard.press('Escape');
  await goTo(page, 'Review');
  await page.getByRole('button', { name: 'Replay' }).first().click();
  const position = page.getByLabel('Position');
  await position.waitFor();
  await position.fill('900');
  await waitForState(page, '(Moving|Still)');
  await page.waitForTimeout(DRAWN_MS);
  await shoot('review');
  await page.getByRole('button', { name: 'Verify the record' }).click();
  await page.locator('.verdict').waitFor();
  await shoot('verify');
  await page.keyboard.press('Escape');
  await page.getByRole('button', { name: 'Recompute otherwise' }).click();
  await page.getByLabel('Refrigerant').selectOption('R-32');
  await page.getByRole('button', { name: 'Compute again' }).click();
  await page.locator('.comparison').waitFor();
  await shoot('recompute');
  await page.keyboard.press('Escape');
  await goTo(page, 'Sensors');
  await page.waitForTimeout(DRAWN_MS);
  await shoot('sensors');
}

/** Two units side by side, a heat pump that heats, and a hunting valve. */
async function shootMore(page: Page, shoot: Shoot): Promise<void> {
  await goTo(page, 'Watch');
  await startScenario(page, 'Twins, one with a restricted drier', 60);
  await waitForState(page, 'Still');
  await page.waitForTimeout(DRAWN_MS);
  await shoot('watch-two');
  await page.getByRole('button', { name: 'What do they say?' }).nth(1).click();
  await page.waitForTimeout(DRAWN_MS);
  await shoot('judgement-restriction');
  await page.getByLabel('Compare with').selectOption({ index: 1 });
  await page.getByRole('region', { name: 'Side by side' }).scrollIntoViewIfNeeded();
  await page.locator('.compare-pattern').scrollIntoViewIfNeeded();
  await page.waitForTimeout(DRAWN_MS);
  await shoot('side-by-side');
  await page.keyboard.press('Escape');
  await page.getByRole('button', { name: 'Stop session' }).click();
  await startScenario(page, 'Heat pump, heating with a defrost', 60);
  await waitForState(page, 'Still');
  await shoot('watch-heating');
  await page.getByRole('button', { name: 'What do they say?' }).click();
  await page.waitForTimeout(DRAWN_MS);
  await shoot('judgement-heating');
  await page.keyboard.press('Escape');
  await page.getByRole('button', { name: 'Stop session' }).click();
  await startScenario(page, 'Hunting valve', 60);
  await waitForState(page, 'Hunting');
  await page.waitForTimeout(DRAWN_MS);
  await shoot('watch-hunting');
  await page.getByRole('button', { name: 'Stop session' }).click();
}

/** What is wrong with a unit, and a unit that stands. */
async function shootFaults(page: Page, shoot: Shoot): Promise<void> {
  await startScenario(page, 'Short cycling', 60);
  await waitForState(page, 'Off');
  await page.getByRole('button', { name: 'Pause' }).click();
  await page.waitForTimeout(DRAWN_MS);
  await shoot('watch-standing');
  await page.getByRole('button', { name: 'What do they say?' }).click();
  await page.waitForTimeout(DRAWN_MS);
  await shoot('judgement-standing');
  await page.keyboard.press('Escape');
  await page.getByRole('button', { name: 'Stop session' }).click();
  for (const [title, name] of [
    ['Low charge', 'low-charge'],
    ['Starved filter, iced coil', 'iced'],
  ] as const) {
    await startScenario(page, title, 60);
    await waitForState(page, 'Still');
    await page.getByRole('button', { name: 'What do they say?' }).click();
    await page.waitForTimeout(DRAWN_MS);
    await shoot(`judgement-${name}`);
    await page.keyboard.press('Escape');
    await page.getByRole('button', { name: 'Stop session' }).click();
  }
}

async function shootAll(
  browser: Browser,
  root: string,
  folder: string,
  viewport: (typeof SIZES)[number],
): Promise<void> {
  const host = await startHost(undefined, root);
  const page = await (await browser.newContext({ viewport, locale: 'en-US' })).newPage();
  const shoot: Shoot = async (name) => {
    for (const theme of ['light', 'dark']) {
      await page.evaluate((t) => (document.documentElement.dataset['theme'] = t), theme);
      const path = join(folder, `${name}-${viewport.width}${theme === 'dark' ? '-dark' : ''}.png`);
      await page.screenshot({ path });
      process.stdout.write(`${path}\n`);
    }
    await page.evaluate(() => (document.documentElement.dataset['theme'] = 'light'));
  };
  await page.goto(host.url);
  await shootStart(page, shoot);
  await shootWatch(page, shoot);
  await shootRecord(page, shoot);
  await shootMore(page, shoot);
  await shootFaults(page, shoot);
  await page.context().close();
  await host.stop();
}

const folder = resolve(process.argv[2] ?? 'out/screens');
mkdirSync(folder, { recursive: true });
const built = buildProgram();
const browser = await launch(await ensureBrowser());
try {
  for (const size of SIZES) await shootAll(browser, built.root, folder, size);
} finally {
  await browser.close();
  built.remove();
}
