import { describe, expect, it } from 'vitest';
import type { Page } from 'playwright-core';
import { faultsInBothThemes } from './axe.ts';
import { onePage } from './harness.ts';
import { createJob, goTo, openDemonstration, startScenario, waitForState } from './steps.ts';

/** WCAG 2.2 AA as far as a machine can tell (axe-core), on every screen and both themes. */
let page: Page;
onePage((open) => {
  page = open.page;
});

const inBothThemes = (): Promise<readonly string[]> => faultsInBothThemes(page);

async function inDialog(button: string): Promise<readonly string[]> {
  await page.getByRole('button', { name: button }).first().click();
  await page.locator('dialog[open]').waitFor();
  const found = await inBothThemes();
  await page.keyboard.press('Escape');
  await page.locator('dialog[open]').waitFor({ state: 'detached' });
  return found;
}

describe('every screen', () => {
  it('start, new job and settings', async () => {
    await page.getByRole('heading', { name: 'Which job?' }).waitFor();
    expect(await inBothThemes()).toEqual([]);
    expect(await inDialog('New job')).toEqual([]);
    expect(await inDialog('settings')).toEqual([]);
  });

  it('the choice of a source', async () => {
    await openDemonstration(page);
    expect(await inBothThemes()).toEqual([]);
  });

  it('Watch, while moving and when still', async () => {
    await startScenario(page, 'Healthy start', 60);
    await waitForState(page, 'Starting');
    await page.getByRole('button', { name: 'Pause' }).click();
    expect(await inBothThemes()).toEqual([]);
    await page.getByRole('button', { name: 'Go on' }).click();
    await waitForState(page, 'Still');
    await page.getByRole('button', { name: 'Pause' }).click();
    expect(await inBothThemes()).toEqual([]);
    expect(await inDialog('What do they say?')).toEqual([]);
    await page.keyboard.press('s');
    await page.locator('.notice').first().waitFor();
  });

  it('Job with its dialogs', async () => {
    await goTo(page, 'Job');
    expect(await inBothThemes()).toEqual([]);
    expect(await inDialog('Edit job')).toEqual([]);
    expect(await inDialog('Edit unit')).toEqual([]);
  });

  it('Review with its dialogs', async () => {
    await page.getByRole('button', { name: 'Stop session' }).click();
    await goTo(page, 'Review');
    expect(await inBothThemes()).toEqual([]);
    await page.getByRole('button', { name: 'Replay' }).click();
    await page.getByRole('region', { name: 'Playback' }).waitFor();
    expect(await inBothThemes()).toEqual([]);
    expect(await inDialog('Verify the record')).toEqual([]);
    expect(await inDialog('Recompute otherwise')).toEqual([]);
  });

  it('Sensors', async () => {
    await goTo(page, 'Sensors');
    await page.getByRole('heading', { name: 'Sensors', exact: true }).waitFor();
    expect(await inBothThemes()).toEqual([]);
  });

  it('typed readings', async () => {
    await goTo(page, 'Job');
    await page.getByRole('button', { name: 'Close job' }).click();
    await createJob(page, 'Typed');
    await goTo(page, 'Watch');
    await page.getByRole('button', { name: 'Type readings' }).click();
    await page.locator('.manual').waitFor();
    expect(await inBothThemes()).toEqual([]);
  });
});
