import { AxeBuilder } from '@axe-core/playwright';
import type { Page } from 'playwright-core';

async function faults(page: Page): Promise<readonly string[]> {
  const { violations } = await new AxeBuilder({ page })
    .withTags(['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'])
    .analyze();
  return violations.flatMap((v) => v.nodes.map((n) => `${v.id}: ${n.html.slice(0, 120)}`));
}

/** What axe finds against WCAG 2.2 AA on the screen as it stands, in the light and the dark theme. */
export async function faultsInBothThemes(page: Page): Promise<readonly string[]> {
  const found: string[] = [];
  for (const theme of ['light', 'dark']) {
    await page.evaluate((t) => (document.documentElement.dataset['theme'] = t), theme);
    found.push(...(await faults(page)).map((fault) => `${theme} ${fault}`));
  }
  await page.evaluate(() => (document.documentElement.dataset['theme'] = 'light'));
  return found;
}
