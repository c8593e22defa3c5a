import { describe, expect, it } from 'vitest';
import type { Page } from 'playwright-core';
import { onePage, type OpenPage } from './harness.ts';
import { createJob, goTo } from './steps.ts';

let open: OpenPage;
let page: Page;
onePage((opened) => {
  open = opened;
  page = opened.page;
});

const HEADER =
  'time[s],suctionPressure[psig],suctionLineTemp[degF],liquidPressure[psig],liquidLineTemp[degF]';
const table = (rows: readonly string[]) => Buffer.from([HEADER, ...rows].join('\n'));
const file = (name: string, buffer: Buffer) => ({ name, mimeType: 'text/csv', buffer });

describe('a job of one’s own', () => {
  it('refuses a form with the error beside its field, and takes it when mended', async () => {
    await page.getByRole('button', { name: 'New job' }).click();
    await page.getByLabel('Target subcooling, °F').fill('ten');
    await page.getByLabel('Altitude, ft').fill('1e9');
    await page.getByRole('button', { name: 'Create job' }).click();
    const errors = await page.locator('dialog .field-error').allInnerTexts();
    expect(errors).toHaveLength(3);
    expect(errors.join()).toMatch(/a title.*6000 m.*from 0 to 40 K/);
    await page.getByLabel('Title').fill('Warm reading room');
    await page.getByLabel('Altitude, ft').fill('600');
    await page.getByLabel('Target subcooling, °F').fill('10');
    await page
      .getByLabel('Suction pressure: kind of accuracy')
      .selectOption({ label: '± % of full scale' });
    await page.getByLabel('Suction pressure: ± %').fill('1');
    await page.getByLabel('Suction pressure: full scale, psi').fill('800');
    await page.getByRole('button', { name: 'Create job' }).click();
    await page.getByRole('heading', { name: 'Warm reading room' }).waitFor();
    expect(await page.locator('.unit-card').innerText()).toContain('Target subcooling 10.0 °F');
  });

  it('keeps findings and notes, and the log says so', async () => {
    await page.getByLabel('In words').fill('grey with dust');
    await page.getByRole('button', { name: 'Add finding' }).click();
    await page.locator('.entries li', { hasText: 'Dirty filter grey with dust' }).waitFor();
    await page.getByRole('button', { name: 'Add note' }).click();
    expect(await page.locator('.field-error').innerText()).toBe('Write something first.');
    await page.getByRole('textbox', { name: 'Note' }).fill('Come back in the morning.');
    await page.getByRole('button', { name: 'Add note' }).click();
    await page.locator('.entries li', { hasText: 'Come back in the morning.' }).waitFor();
    await page.locator('summary', { hasText: 'Log' }).click();
    expect(
      await page.getByRole('region', { name: 'Log' }).locator('tbody tr').count(),
    ).toBeGreaterThan(2);
  });
});

describe('sensors that cannot be heard', () => {
  it('are not offered to be listened to; what to do is said', async () => {
    await goTo(page, 'Watch');
    const sensors = page.locator('.source').first();
    expect(await sensors.getAttribute('data-kind')).toBe('radio');
    // Without an adapter what to do about it, with one what to do about there being no sensor.
    await sensors
      .getByText(/adapter was found|Bluetooth|No sensor is assigned/)
      .last()
      .waitFor();
    const listen = sensors.getByRole('button', { name: 'Listen to the sensors', disabled: false });
    expect(await listen.count()).toBe(0);
  });
});

describe('a logged table', () => {
  it('is refused with line and column, and nothing is started', async () => {
    await goTo(page, 'Watch');
    const input = page.getByLabel('Table (CSV)');
    await input.setInputFiles(file('bad.csv', table(['0,118,55,340,95', '1,118,fifty,340,95'])));
    const refusal = page.locator('.source[data-kind="file"] .field-error');
    await refusal.waitFor();
    const text = await refusal.innerText();
    expect(text).toMatch(/line 3/i);
    expect(text).toMatch(/suctionLineTemp|column 3/i);
    expect(text).toContain('Nothing was imported');
    expect(await page.getByRole('button', { name: 'Watch the table' }).isDisabled()).toBe(true);
  });

  it('is watched when it is sound, and is not called simulated', async () => {
    const rows = Array.from({ length: 1300 }, (_, i) => `${i},118,55,340,95`);
    await page.getByLabel('Table (CSV)').setInputFiles(file('still.csv', table(rows)));
    await page.getByText('1300 rows over').waitFor();
    expect(await page.getByRole('list', { name: 'Notes on the table' }).count()).toBe(0);
    await page.getByRole('button', { name: 'Watch the table' }).click();
    await page.locator('.slab').waitFor();
    const banner = await page.locator('.source-banner').innerText();
    expect(banner).toContain('From a file');
    expect(banner).toContain('still.csv');
    expect(banner).not.toContain('SIMULATED');
    // 1 % of 800 psi is ±8 psi: some ±4 °F of superheat near 118 psig (common practice, no source).
    await page.locator('.big[data-figure="superheat"] .big-pm').waitFor();
    const pm = await page.locator('.big[data-figure="superheat"] .big-pm').innerText();
    expect(Number(/[\d.]+/.exec(pm)?.[0])).toBeGreaterThan(3);
    expect(Number(/[\d.]+/.exec(pm)?.[0])).toBeLessThan(5.5);
    await page.getByRole('button', { name: 'Stop session' }).click();
    await page.getByRole('heading', { name: 'What do you want to watch?' }).waitFor();
  });
});

describe('a table whose logger lost its power', () => {
  it('is read as far as it goes, and says so before and in the record', async () => {
    const rows = Array.from({ length: 30 }, (_, i) => `${i},118,55,340,95`);
    const cut = Buffer.concat([table(rows), Buffer.from('\n30,118,5')]);
    await page.getByLabel('Table (CSV)').setInputFiles(file('cut.csv', cut));
    const notes = page.getByRole('list', { name: 'Notes on the table' });
    expect(await notes.innerText()).toMatch(/^Line 32: the last line was cut off/);
    await page.getByRole('button', { name: 'Watch the table' }).click();
    await page.locator('.slab').waitFor();
    expect(await page.locator('.source-banner').innerText()).toContain('1 note on what was read');
    await page.getByRole('button', { name: 'Stop session' }).click();
    await goTo(page, 'Review');
    expect(await notes.innerText()).toMatch(/^Line 32/);
    await goTo(page, 'Watch');
  });
});

describe('readings typed by hand', () => {
  it('are checked, entered and shown with what they mean', async () => {
    await page.getByRole('button', { name: 'Type readings' }).click();
    await page.getByLabel('Suction pressure, psig').fill('9999');
    await page.getByRole('button', { name: 'Enter readings' }).click();
    expect(await page.locator('.manual .field-error').innerText()).toContain('outside');
    await page.getByLabel('Suction pressure, psig').fill('118');
    await page.getByLabel('Suction line, °F').fill('52,0');
    await page.getByRole('button', { name: 'Enter readings' }).click();
    const value = page.locator('.readout[data-channel="suctionPressure"] .readout-value');
    await value.waitFor();
    expect(await value.innerText()).toBe('118.0');
    // What they mean stands large, though two numbers say nothing of stillness.
    const superheat = page.locator('.big[data-figure="superheat"] .big-digits');
    await superheat.filter({ hasText: /^1[0-3]\.\d$/ }).waitFor();
    expect(await page.locator('.slab-word').innerText()).toBe('Typed');
    const line = page.locator('.readout[data-channel="suctionLineTemp"] .readout-value');
    expect(await line.innerText()).toBe('52.0');
    await page.getByRole('button', { name: 'Stop session' }).click();
  });
});

describe('a file from elsewhere', () => {
  it('is refused with a reason when it is no job', async () => {
    await goTo(page, 'Job');
    await page.getByRole('button', { name: 'Close job' }).click();
    await page
      .getByLabel('Job file')
      .setInputFiles({ name: 'x.stillpoint', mimeType: '', buffer: Buffer.from('no database') });
    const notice = page.locator('.notice[data-level="error"]');
    await notice.waitFor();
    expect(await notice.innerText()).toMatch(/refused/);
    expect(open.problems()).toEqual([]);
  });

  it('can be made next to it', async () => {
    await createJob(page, 'Second call');
    expect(await page.locator('.unit-card').count()).toBe(1);
  });
});
