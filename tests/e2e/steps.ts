import type { Page } from 'playwright-core';

/** What a person does on the screens, step by step. */

/** Opens a demonstration job, which leads to the choice of a source. */
export async function openDemonstration(page: Page): Promise<void> {
  await page.getByRole('button', { name: 'Watch a simulated unit' }).click();
  await page.getByRole('heading', { name: 'What do you want to watch?' }).waitFor();
}

/** Starts a scenario by its title at a speed, and waits for the first word on its state. */
export async function startScenario(page: Page, title: string, speed: number): Promise<void> {
  const form = page.locator('.source[data-kind="simulated"]');
  await form.getByLabel('Scenario').selectOption({ label: title });
  await form.getByLabel('Speed').selectOption(String(speed));
  await form.getByRole('button', { name: 'Watch the simulation' }).click();
  await page.locator('.slab').first().waitFor();
}

/** Waits until a unit's slab says this word. */
export async function waitForState(page: Page, word: string, limitMs = 60_000): Promise<void> {
  await page
    .locator('.slab-word', { hasText: new RegExp(`^${word}$`) })
    .first()
    .waitFor({ timeout: limitMs });
}

/** Goes to a room by its button. */
export async function goTo(
  page: Page,
  room: 'Watch' | 'Job' | 'Review' | 'Sensors',
): Promise<void> {
  await page.getByRole('navigation').getByRole('button', { name: room, exact: true }).click();
}

/** The number shown large for a figure, as text. */
export async function digits(page: Page, figure: 'superheat' | 'subcooling'): Promise<string> {
  return page.locator(`.big[data-figure="${figure}"] .big-digits`).first().innerText();
}

/** Makes a job through its form, with one unit. */
export async function createJob(page: Page, title: string): Promise<void> {
  await page.getByRole('button', { name: 'New job' }).click();
  await page.getByLabel('Title').fill(title);
  await page.getByRole('button', { name: 'Create job' }).click();
  await page.getByRole('heading', { name: title }).waitFor();
}
