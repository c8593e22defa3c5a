import { describe, expect, it } from 'vitest';
import type { Page } from 'playwright-core';
import { reasonText } from '../../core/steadiness/reason-text.ts';
import { onePage } from './harness.ts';
import { goTo, openDemonstration, startScenario, waitForState } from './steps.ts';

let page: Page;
onePage(async (open) => {
  page = open.page;
  await openDemonstration(page);
});

/** How far the page is larger than the window, px. */
function beyond(): Promise<{ x: number; y: number }> {
  return page.evaluate(() => ({
    x: document.documentElement.scrollWidth - window.innerWidth,
    y: document.documentElement.scrollHeight - window.innerHeight,
  }));
}

/** Texts that stick out of the box they belong to. */
function cutOff(): Promise<readonly string[]> {
  const pairs = [
    ['.slab', '.slab-word, .slab-left, .slab-reason'],
    ['.big', '.big-digits, .big-pm, .big-against, header'],
    ['.readouts', '.readout'],
    ['.closing-list', 'li'],
    ['.glance-foot', 'button'],
  ];
  return page.evaluate((boxes) => {
    const out: string[] = [];
    for (const [outer = '', inner = ''] of boxes) {
      for (const box of document.querySelectorAll(outer)) {
        const edge = box.getBoundingClientRect();
        for (const part of box.querySelectorAll(inner)) {
          const p = part.getBoundingClientRect();
          const fits =
            p.top >= edge.top - 3 &&
            p.bottom <= edge.bottom + 3 &&
            p.left >= edge.left - 3 &&
            p.right <= edge.right + 3;
          if (!fits) out.push(`${outer}: ${part.textContent}`);
        }
      }
    }
    return out;
  }, pairs);
}

/** The most that is said of a unit that is still. */
const LONGEST = reasonText({
  code: 'still',
  counted: ['superheat', 'subcooling'],
  confidence: 0.96,
  horizon: 300,
  quantity: 'liquidSaturation',
  drift: 0,
  trend: { change: 1.2, seconds: 150 },
});

/** The same with other words on the slabs; they may be written anew at any moment. */
async function cutOffWith(reason: string): Promise<readonly string[]> {
  return page.evaluate((text) => {
    return [...document.querySelectorAll('.slab')].flatMap((slab) => {
      const line = slab.querySelector('.slab-reason');
      if (line === null) return ['no reason'];
      const before = line.textContent;
      line.textContent = text;
      const over = line.getBoundingClientRect().bottom - slab.getBoundingClientRect().bottom;
      line.textContent = before;
      return over > -3 ? [`${over} px beyond the slab: ${text}`] : [];
    });
  }, reason);
}

/** Parts of the screen that lie over one another. */
function overlaps(foot: string): Promise<readonly string[]> {
  const parts = ['.slab', '.bigs', '.closing', '.cycle', '.trends', '.glance-foot', foot];
  return page.evaluate((selectors) => {
    const boxes = selectors.flatMap((selector) =>
      [...document.querySelectorAll(selector)].map((part) => ({
        selector,
        rect: part.getBoundingClientRect(),
      })),
    );
    return boxes.flatMap((a, i) =>
      boxes.slice(i + 1).flatMap((b) => {
        const apart =
          a.rect.right <= b.rect.left + 1 ||
          b.rect.right <= a.rect.left + 1 ||
          a.rect.bottom <= b.rect.top + 1 ||
          b.rect.bottom <= a.rect.top + 1;
        return apart ? [] : [`${a.selector} over ${b.selector}`];
      }),
    );
  }, parts);
}

/** The pictures follow a change of size within a few frames; a busy machine takes its time. */
const PATIENT = { timeout: 10_000 };
/** A laptop of 1366 by 768 at 125 % and 200 %, and in a window that is not as high. */
const ZOOMED = [
  { width: 1093, height: 614 },
  { width: 683, height: 384 },
  { width: 1366, height: 660 },
];
const SIZES = [
  { width: 1366, height: 768 },
  { width: 1920, height: 1080 },
];

describe.each([
  ['one unit', 'Healthy start'],
  ['two units', 'Twins, one with a restricted drier'],
])('Watch with %s', (_, scenario) => {
  it('fits the window without scrolling, nothing cut off', async () => {
    await startScenario(page, scenario, 200);
    await waitForState(page, 'Starting');
    for (const size of SIZES) {
      await page.setViewportSize(size);
      await expect
        .poll(beyond, { ...PATIENT, message: `${size.width} wide` })
        .toEqual({ x: 0, y: 0 });
      await expect.poll(cutOff, { ...PATIENT, message: `${size.width} wide` }).toEqual([]);
    }
    await waitForState(page, 'Still');
    await expect.poll(cutOff, PATIENT).toEqual([]);
    await page.setViewportSize({ width: 1366, height: 768 });
    await expect.poll(cutOff, PATIENT).toEqual([]);
    expect(await cutOffWith(LONGEST)).toEqual([]);
  });

  it('shows a message where it covers no reading and no button', async () => {
    await page.keyboard.press('s');
    await page.locator('.notice:visible').first().waitFor();
    for (const size of SIZES) {
      await page.setViewportSize(size);
      await expect.poll(() => overlaps('.notice'), PATIENT).toEqual([]);
      await expect.poll(cutOff, PATIENT).toEqual([]);
    }
    // The newest lies over the older ones: each dismissed shows the next.
    const buttons = page.locator('.notice button:visible');
    while ((await buttons.count()) > 0) await buttons.first().click();
    await page.setViewportSize({ width: 1366, height: 768 });
  });

  it('is readable zoomed to 125 % and 200 %: nothing lies over another, no sideways scrolling', async () => {
    for (const size of ZOOMED) {
      await page.setViewportSize(size);
      await expect.poll(async () => (await beyond()).x, PATIENT).toBe(0);
      await expect.poll(cutOff, PATIENT).toEqual([]);
      await expect.poll(() => overlaps('.watch-foot'), PATIENT).toEqual([]);
    }
    await page.setViewportSize({ width: 1366, height: 768 });
    await page.getByRole('button', { name: 'Stop session' }).click();
    await page.getByRole('heading', { name: 'What do you want to watch?' }).waitFor();
  });
});

describe('a job, a site and a unit with long names', () => {
  const NAME =
    'Rooftop unit fourteen, serving the western offices, the canteen and the long corridor';

  it('stay within the window at every size, in every room', async () => {
    await goTo(page, 'Job');
    await page.getByRole('button', { name: 'Edit job' }).click();
    await page.getByLabel('Title').fill(`Quarterly call: ${NAME}`);
    await page.getByLabel('Site').fill(`${NAME}, ${NAME}`);
    await page.getByRole('button', { name: 'Save' }).click();
    await page.getByRole('button', { name: 'Edit unit' }).first().click();
    await page.getByLabel('Name').fill(NAME);
    await page.getByRole('button', { name: 'Save unit' }).click();
    await goTo(page, 'Watch');
    await startScenario(page, 'Healthy start', 200);
    await waitForState(page, 'Starting');
    for (const room of ['Watch', 'Job', 'Review', 'Sensors'] as const) {
      await goTo(page, room);
      for (const size of [...SIZES, ...ZOOMED]) {
        await page.setViewportSize(size);
        const message = `${room}, ${size.width} wide`;
        await expect.poll(async () => (await beyond()).x, { ...PATIENT, message }).toBe(0);
      }
      await page.setViewportSize({ width: 1366, height: 768 });
    }
  });
});
