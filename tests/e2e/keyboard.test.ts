import { describe, expect, it } from 'vitest';
import type { Page } from 'playwright-core';
import { onePage } from './harness.ts';
import { waitForState } from './steps.ts';

let page: Page;
onePage((open) => {
  page = open.page;
});

const MOST_STOPS = 60;
/** A busy machine takes its time. */
const PATIENT = { timeout: 30_000 };

/** Tabs until the focused control has this name; every stop on the way must show its focus. */
async function tabTo(name: RegExp): Promise<void> {
  for (let i = 0; i < MOST_STOPS; i += 1) {
    await page.keyboard.press('Tab');
    const focused = await page.evaluate(() => {
      const element = document.activeElement as HTMLElement;
      const label = (element as HTMLInputElement).labels?.[0]?.textContent ?? '';
      const outline = getComputedStyle(element);
      return {
        name: `${element.getAttribute('aria-label') ?? ''} ${label} ${element.textContent}`,
        visible: outline.outlineStyle === 'solid' && parseFloat(outline.outlineWidth) >= 2,
        isBody: element === document.body,
      };
    });
    if (focused.isBody) continue;
    expect(focused.visible, `the focus is seen on ${focused.name}`).toBe(true);
    if (name.test(focused.name)) return;
  }
  throw new Error(`Tab never came to ${String(name)}`);
}

describe('with the keyboard alone', () => {
  it('starts a session', async () => {
    await page.getByRole('heading', { name: 'Which job?' }).waitFor();
    await tabTo(/Watch a simulated unit/);
    await page.keyboard.press('Enter');
    await page.getByRole('heading', { name: 'What do you want to watch?' }).waitFor();
    await tabTo(/Scenario/);
    await page.keyboard.type('Healthy');
    await tabTo(/Speed/);
    await page.keyboard.press('End');
    await tabTo(/Watch the simulation/);
    await page.keyboard.press('Enter');
    await page.locator('.slab').waitFor();
  });

  it('takes a snapshot and goes from room to room', async () => {
    // By then more than two minutes are recorded: enough to step about in.
    await waitForState(page, '(Starting|Moving|Still)');
    await page.keyboard.press('s');
    await page.locator('.notice', { hasText: 'kept (Before)' }).waitFor();
    await page.keyboard.press('Alt+2');
    await page.locator('.snapshot').waitFor();
    await tabTo(/Stop session/);
    await page.keyboard.press('Enter');
    await page.getByRole('button', { name: 'Start session' }).waitFor();
    await page.keyboard.press('Alt+3');
    await page.getByRole('heading', { name: 'Review' }).waitFor();
  });

  it('replays: plays, pauses, steps and changes the speed', async () => {
    await tabTo(/Replay/);
    await page.keyboard.press('Enter');
    await page.getByRole('region', { name: 'Playback' }).waitFor();
    await page.evaluate(() => (document.activeElement as HTMLElement).blur());
    const position = async () => Number(await page.getByLabel('Position').inputValue());
    if (await page.getByRole('button', { name: 'Pause' }).isVisible()) {
      await page.keyboard.press(' ');
      await page.getByRole('button', { name: 'Play' }).waitFor();
    }
    const before = await position();
    await page.keyboard.press('Shift+ArrowRight');
    await page.keyboard.press('Shift+ArrowRight');
    await expect.poll(position, PATIENT).toBeGreaterThan(before + 50);
    await page.keyboard.press('+');
    await expect.poll(() => page.getByLabel('Speed').inputValue(), PATIENT).not.toBe('1');
    await page.keyboard.press(' ');
    await page.getByRole('button', { name: 'Pause' }).waitFor();
    await waitForState(page, '(Waiting|Off|Starting|Moving|Still|Disturbed)');
  });

  it('goes through a form without the focus hiding behind its foot', async () => {
    await page.keyboard.press('Alt+2');
    await tabTo(/Edit unit/);
    await page.keyboard.press('Enter');
    await page.getByRole('button', { name: 'Save unit' }).waitFor();
    const hidden = new Set<string>();
    for (let step = 0; step < 30; step += 1) {
      await page.keyboard.press('Tab');
      const name = await page.evaluate(() => {
        const element = document.activeElement;
        if (element === null || element === document.body) return null;
        const { left, top, width, height } = element.getBoundingClientRect();
        const seen = document.elementFromPoint(left + width / 2, top + height / 2);
        return seen !== null && (element.contains(seen) || seen.contains(element))
          ? null
          : element.outerHTML.slice(0, 100);
      });
      if (name !== null) hidden.add(name);
    }
    expect([...hidden]).toEqual([]);
    await page.keyboard.press('Escape');
  });
});
