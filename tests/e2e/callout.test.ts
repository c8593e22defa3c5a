import { expect, it } from 'vitest';
import type { Page } from 'playwright-core';
import { onePage } from './harness.ts';
import { goTo, openDemonstration, startScenario, waitForState } from './steps.ts';

let page: Page;
onePage(async (open) => {
  page = open.page;
  await openDemonstration(page);
});

interface Heard {
  readonly sounds: number;
  readonly notifications: readonly string[];
}

/** Puts ears in the place of the loudspeaker and of the system's notifications, and empties them. */
async function listen(): Promise<void> {
  await page.evaluate(() => {
    const heard = { sounds: 0, notifications: [] as string[] };
    const Audio = AudioContext;
    class Loudspeaker extends Audio {
      constructor() {
        super();
        heard.sounds += 1;
      }
    }
    const Notification = function (_title: string, { body }: { readonly body: string }) {
      heard.notifications.push(body);
    };
    Object.assign(Notification, { permission: 'granted' });
    Object.assign(window, { heard, AudioContext: Loudspeaker, Notification });
  });
}

function heard(): Promise<Heard> {
  return page.evaluate(() => (window as unknown as { heard: Heard }).heard);
}

/** Watches a start until it is still, from another room; gives the line shown there. */
async function settleUnwatched(): Promise<string> {
  await startScenario(page, 'Healthy start', 200);
  await goTo(page, 'Job');
  const line = page.locator('.notice', { hasText: /still/i });
  await line.first().waitFor({ timeout: 60_000 });
  const text = await line.first().innerText();
  await goTo(page, 'Watch');
  await waitForState(page, '(Still|Moving|Disturbed|Off)');
  await page.getByRole('button', { name: 'Stop session' }).click();
  return text;
}

it('calls out by sound and notification when a unit is still', async () => {
  await listen();
  await settleUnwatched();
  const { sounds, notifications } = await heard();
  expect(sounds).toBeGreaterThan(0);
  expect(notifications[0]).toMatch(/still/i);
});

it('is silent when switched off, and still says it on the screen', async () => {
  await startScenario(page, 'Healthy start', 10);
  await page.getByRole('button', { name: 'Calls out when still: on' }).click();
  await page.getByRole('button', { name: 'Calls out when still: off' }).waitFor();
  await page.getByRole('button', { name: 'Stop session' }).click();
  for (const old of await page.locator('.notice button').all()) await old.click();
  await listen();
  expect(await settleUnwatched()).toMatch(/still/i);
  expect(await heard()).toEqual({ sounds: 0, notifications: [] });
});
