import { afterAll, describe, expect, it } from 'vitest';
import { closeBrowser, openPage, startHost, type Host } from './harness.ts';
import { goTo, openDemonstration, startScenario, waitForState } from './steps.ts';

afterAll(closeBrowser);

/** Records until the unit runs, then pulls the plug. */
async function recordAndPull(): Promise<string> {
  const host = await startHost();
  const { page, close } = await openPage(host);
  await openDemonstration(page);
  await startScenario(page, 'Healthy start', 60);
  await waitForState(page, 'Starting');
  await page.waitForTimeout(2000);
  await host.kill();
  await close();
  return host.home;
}

async function reopen(
  home: string,
): Promise<{ host: Host; opened: Awaited<ReturnType<typeof openPage>> }> {
  const host = await startHost(home);
  const opened = await openPage(host);
  await opened.page.getByRole('button', { name: 'Open Demonstration' }).click();
  await opened.page.getByRole('heading', { name: 'A recording broke off' }).waitFor();
  return { host, opened };
}

describe('after the plug was pulled', () => {
  it('offers the unfinished session and goes on with it', async () => {
    const { host, opened } = await reopen(await recordAndPull());
    const { page } = opened;
    await page.getByRole('button', { name: 'Go on with it' }).click();
    await page.locator('.slab').waitFor();
    expect(await page.locator('.source-banner').innerText()).toContain('SIMULATED');
    await page.getByRole('button', { name: 'Stop session' }).click();
    await goTo(page, 'Job');
    expect(await page.getByRole('heading', { name: 'A recording broke off' }).count()).toBe(0);
    expect(await page.getByRole('button', { name: 'Replay' }).count()).toBe(1);
    await opened.close();
    await host.stop();
  });

  it('closes it as it is when asked to, and keeps what was recorded', async () => {
    const { host, opened } = await reopen(await recordAndPull());
    const { page } = opened;
    await page.getByRole('button', { name: 'Close it as it is' }).click();
    await page
      .getByRole('heading', { name: 'A recording broke off' })
      .waitFor({ state: 'detached' });
    await page.getByRole('button', { name: 'Replay' }).click();
    await page.getByLabel('Position').waitFor();
    expect(Number(await page.getByLabel('Position').getAttribute('max'))).toBeGreaterThan(100);
    await opened.close();
    await host.stop();
  });
});
