import { expect, it } from 'vitest';
import { onePage, type OpenPage } from './harness.ts';
import { openDemonstration, startScenario, waitForState } from './steps.ts';

let open: OpenPage;
onePage((opened) => {
  open = opened;
});

it('reads the standing pressures of a unit that is off, and says when they are worth judging', async () => {
  const { page } = open;
  await openDemonstration(page);
  await startScenario(page, 'Healthy start', 10);
  await waitForState(page, 'Off');
  const standing = page.getByRole('region', { name: 'Standing pressures' });
  const digits = await standing.locator('.big-digits').allInnerTexts();
  expect(digits.map(Number).every((psig) => psig > 150 && psig < 350)).toBe(true);
  await expect.poll(() => standing.innerText(), { timeout: 30_000 }).toMatch(/It agrees \(\d+ %\)/);
  await page.getByRole('button', { name: 'What do they say?' }).click();
  const sheet = page.getByRole('dialog');
  const titles = await sheet.getByRole('heading', { level: 3 }).allInnerTexts();
  expect(titles).toEqual(['Standing check', 'Figures']);
  expect(await sheet.getByRole('table').innerText()).not.toMatch(
    /evaporating|condensing|superheat/i,
  );
  await sheet.getByRole('button', { name: 'Close' }).click();
  await page.getByLabel('Speed of the session').selectOption('60');
  await waitForState(page, 'Starting');
  expect(await standing.count()).toBe(0);
  expect(open.problems()).toEqual([]);
});
