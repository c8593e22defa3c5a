import { afterAll, describe, expect, it } from 'vitest';
import type { Bridge } from '../../electron/bridge/client.ts';
import { testJob } from '../support/job.ts';
import { faultsInBothThemes } from './axe.ts';
import { goTo } from './steps.ts';
import { closeBrowser, hostsPerTest, must, openPage, until, type Host } from './harness.ts';

const start = hostsPerTest();
afterAll(closeBrowser);

/** A host that plays a scenario until it has settled. */
async function settled(scenario: string): Promise<{ host: Host; bridge: Bridge }> {
  const { host, bridge } = await start();
  await must(bridge, 'job.create', testJob());
  // Slow enough that the pause comes while it is still, on a busy machine too.
  const source = { kind: 'simulated', scenario, speed: 100 } as const;
  await must(bridge, 'session.start', { source });
  await until(async () => {
    const view = await must(bridge, 'session.current', { role: 'live' });
    return view?.units[0]?.state.steadiness.state === 'settled';
  }, 'the unit to settle');
  await must(bridge, 'playback.pause', { role: 'live' });
  return { host, bridge };
}

describe('the judgement of what stands on the screen', () => {
  it('says what stands in the way, ranks suspects, takes the outcome of a check, and is written down', async () => {
    const { host, bridge } = await settled('low-charge');
    const { page, problems, close } = await openPage(host);
    await page.getByRole('button', { name: 'What do they say?' }).first().click();
    const sheet = page.getByRole('dialog');
    await sheet.getByText('Against the targets').waitFor();
    // From the top: the answer and how sure it is, the charge, then what they rest on.
    const answer = await sheet.getByRole('region', { name: 'Answer' }).innerText();
    expect(answer).toMatch(/First suspect: Too little refrigerant[\s\S]*% likely/);
    const headings = await sheet.getByRole('heading').allInnerTexts();
    expect(headings.filter((text) => text !== 'What stands in the way')).toEqual([
      expect.stringMatching(/^What the readings say/),
      expect.stringMatching(/^First suspect/),
      'The charge',
      ...['Against the targets', 'Figures', 'The cycle'],
      expect.stringMatching(/^Check next: /),
      'How likely each cause is',
      'Side by side',
    ]);
    expect(await sheet.getByRole('list', { name: 'Checks made' }).count()).toBe(0);
    await sheet.getByRole('group', { name: 'What came out' }).getByRole('button').last().click();
    expect(await sheet.getByRole('list', { name: 'Checks made' }).count()).toBe(1);
    expect(await faultsInBothThemes(page)).toEqual([]);
    await sheet.getByRole('button', { name: 'Write it down' }).click();
    const note = await until(async () => {
      const job = await must(bridge, 'job.current', {});
      return job?.notes[0] ?? null;
    }, 'the note');
    expect(note.text).toContain('Suspects:');
    // A record keeps the odds, and not only the mark.
    expect(note.text).toMatch(/limits.*\(below .* %, within .* %, above .* %\)/);
    await page.keyboard.press('Escape');
    await sheet.waitFor({ state: 'detached' });
    expect(problems()).toEqual([]);
    await close();
  });

  it('takes the maker’s chart and an earlier reading, keeps what was told, and shows the odds', async () => {
    const { host, bridge } = await settled('healthy-start');
    const { page, problems, close } = await openPage(host);
    await page.getByRole('button', { name: 'Take snapshot' }).waitFor();
    await page.keyboard.press('s');
    const kept = await until(async () => {
      const record = await must(bridge, 'job.current', {});
      return record?.snapshots[0] ?? null;
    }, 'the snapshot');
    expect(kept.content.state).toBe('settled');
    await goTo(page, 'Job');
    await page.getByRole('button', { name: 'Edit unit A' }).click();
    const form = page.getByRole('dialog');
    await form.getByText('Expected readings from the maker’s papers').click();
    await form.getByLabel('Compressor displacement, cfm').fill('3.4');
    await form.getByLabel('Subcooling, °F', { exact: true }).fill('many');
    await form.getByRole('button', { name: 'Save unit' }).click();
    await form.getByText('a number, or empty').waitFor();
    await form.getByLabel('Subcooling, °F', { exact: true }).fill('10.5');
    await form.getByRole('button', { name: 'Save unit' }).click();
    await form.waitFor({ state: 'detached' });
    const job = await must(bridge, 'job.current', {});
    expect(job?.units[0]?.maker.subcooling?.value).toBeCloseTo(10.5 / 1.8, 6);

    await goTo(page, 'Watch');
    await page.getByRole('button', { name: 'What do they say?' }).click();
    const sheet = page.getByRole('dialog');
    await sheet.getByText(/maker’s chart for these conditions/).waitFor();
    await sheet.getByText('Refrigerant flow').waitFor();
    expect(await sheet.locator('.odds-bar').count()).toBeGreaterThan(1);
    const healthy = sheet.getByLabel('This unit when it was healthy');
    await healthy.selectOption({ index: 1 });
    await sheet.getByLabel('Airflow over the indoor coil').selectOption('attested');
    await page.keyboard.press('Escape');
    await page.getByRole('button', { name: 'What do they say?' }).click();
    expect(await healthy.inputValue()).not.toBe('');
    await sheet.getByRole('heading', { name: 'Nothing clearly wrong' }).waitFor();
    expect(await faultsInBothThemes(page)).toEqual([]);
    expect(problems()).toEqual([]);
    await close();
  });

  it('keeps the answers for another day, and takes a reviewer’s word beside the snapshot', async () => {
    const { host, bridge } = await settled('healthy-start');
    const { page, close } = await openPage(host);
    await page.getByRole('button', { name: 'What do they say?' }).click();
    const sheet = page.getByRole('dialog');
    await sheet.getByLabel('Airflow over the indoor coil').selectOption('measured');
    await sheet.getByLabel('Measured airflow, cfm').fill('1150');
    await sheet.getByLabel('The charge was weighed in').check();
    await until(async () => {
      const answers = (await must(bridge, 'job.current', {}))?.answers[0]?.answers;
      return answers?.chargeWeighed === true && answers.flow_m3_s !== null;
    }, 'the answers in the record');
    await page.keyboard.press('Escape');
    await page.keyboard.press('s');
    await page.locator('.notice', { hasText: 'Snapshot of unit A kept' }).waitFor();
    await must(bridge, 'session.stop', {});
    const file = (await must(bridge, 'job.current', {}))!.file;
    await close();
    await host.stop();

    const later = await start(host.home);
    await must(later.bridge, 'job.open', { file });
    await must(later.bridge, 'settings.set', { units: 'us', author: 'A. Reviewer', sound: true });
    const review = await openPage(later.host);
    const shown = review.page;
    await shown.getByRole('button', { name: 'What does it say?' }).click();
    const again = shown.getByRole('dialog');
    expect(await again.getByLabel('Measured airflow, cfm').inputValue()).toBe('1150');
    expect(await again.getByLabel('The charge was weighed in').isChecked()).toBe(true);
    await shown.keyboard.press('Escape');
    await shown.getByRole('button', { name: 'Replay' }).click();
    await shown.getByRole('button', { name: 'Accept or query' }).click();
    await again.getByRole('button', { name: 'Query' }).click();
    await again.getByText('Say what you query').waitFor();
    await again.getByLabel('Your remark on Before').fill('Was the filter changed first?');
    await again.getByRole('button', { name: 'Query' }).click();
    await again.getByText('Was the filter changed first?').waitFor();
    await again.getByRole('button', { name: 'Accept' }).click();
    await again.locator('.review-words li').nth(1).waitFor();
    expect(await faultsInBothThemes(shown)).toEqual([]);
    await shown.keyboard.press('Escape');
    await goTo(shown, 'Job');
    const words = await shown.locator('.snapshot .review-words li').allInnerTexts();
    expect(words).toHaveLength(2);
    expect(words[0]).toMatch(/^Accepted .*A\. Reviewer$/);
    expect(words[1]).toMatch(/^Queried: Was the filter changed first\? .*A\. Reviewer$/);
    const [verified] = await must(later.bridge, 'review.verify', {});
    expect(verified).toMatchObject({ samplesAgree: true, numbersAgree: true });
    expect(review.problems()).toEqual([]);
    await review.close();
  });

  it('lays two units side by side, figure by figure', async () => {
    const { host } = await settled('twin-restricted-drier');
    const { page, problems, close } = await openPage(host);
    await page.getByRole('button', { name: 'What do they say?' }).nth(1).click();
    const sheet = page.getByRole('dialog');
    const part = sheet.getByRole('region', { name: 'Side by side' });
    await part.getByLabel('Compare with').selectOption({ index: 1 });
    const table = part.getByRole('table');
    await table.waitFor();
    expect(await table.getByRole('columnheader').allTextContents()).toEqual([
      'Unit B',
      'Unit A',
      'Unit B is',
    ]);
    const superheat = table.getByRole('row').filter({ hasText: 'Superheat' }).first();
    expect(await superheat.textContent()).toContain('higher by');
    expect(await part.textContent()).toContain('Its liquid turns colder across the drier');
    expect(await faultsInBothThemes(page)).toEqual([]);
    expect(problems()).toEqual([]);
    await close();
  });

  it('judges typed readings once a person says that they stood still', async () => {
    const { host, bridge } = await start();
    await must(bridge, 'job.create', testJob());
    await must(bridge, 'session.start', { source: { kind: 'manual', unit: 'A' } });
    const values = [
      { channel: 'suctionPressure', value: 103, unit: 'psig' },
      { channel: 'liquidPressure', value: 331, unit: 'psig' },
      { channel: 'suctionLineTemp', value: 43, unit: 'degF' },
      { channel: 'liquidLineTemp', value: 85.5, unit: 'degF' },
    ] as const;
    await must(bridge, 'manual.enter', { values: [...values] });
    const { page, problems, close } = await openPage(host);
    await page.getByRole('button', { name: 'What do they say?' }).first().click();
    const sheet = page.getByRole('dialog');
    await sheet.getByRole('heading', { name: 'What stands in the way' }).waitFor();
    expect(await sheet.getByText('Nothing is judged now.').count()).toBe(1);
    await sheet.getByLabel('the readings stood still').check();
    await sheet
      .getByText(/Superheat 10\.\d\s°F/)
      .first()
      .waitFor();
    expect(problems()).toEqual([]);
    await close();
  });
});
