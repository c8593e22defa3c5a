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
  await page.getByLabel('Speed of the session').selectOption('60');
  await waitForState(page, 'Starting');
  expect(await standing.count()).toBe(0);
  expect(open.problems()).toEqual([]);
});
