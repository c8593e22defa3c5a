import { AxeBuilder } from '@axe-core/playwright';
import { afterAll, afterEach, describe, expect, it } from 'vitest';
import { say } from '../../electron/bridge/errors.ts';
import type { Bridge } from '../../electron/bridge/client.ts';
import type { CommandArgs, CommandName, CommandResults } from '../../electron/bridge/commands.ts';
import { testJob } from '../support/job.ts';
import { goTo } from './steps.ts';
import { closeBrowser, connect, openPage, startHost, until, type Host } from './harness.ts';

const hosts: Host[] = [];
afterEach(async () => {
  for (const host of hosts.splice(0)) await host.stop();
});
afterAll(closeBrowser);

async function must<C extends CommandName>(
  bridge: Bridge,
  name: C,
  args: CommandArgs<C>,
): Promise<CommandResults[C]> {
  const result = await bridge.call(name, args);
  if (!result.ok) throw new Error(`${name}: ${say(result.error)}`);
  return result.value;
}

/** A host that plays a scenario until it has settled. */
async function settled(scenario: string): Promise<{ host: Host; bridge: Bridge }> {
  const host = await startHost();
  hosts.push(host);
  const bridge = connect(host);
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
    expect(await sheet.textContent()).toContain('Too little refrigerant');
    expect(await sheet.getByRole('list', { name: 'Checks made' }).count()).toBe(0);
    await sheet.getByRole('group', { name: 'What came out' }).getByRole('button').last().click();
    expect(await sheet.getByRole('list', { name: 'Checks made' }).count()).toBe(1);
    const axe = await new AxeBuilder({ page }).include('dialog').analyze();
    expect(axe.violations.map((v) => v.id)).toEqual([]);
    await sheet.getByRole('button', { name: 'Write it down' }).click();
    const note = await until(async () => {
      const job = await must(bridge, 'job.current', {});
      return job?.notes[0] ?? null;
    }, 'the note');
    expect(note.text).toContain('Suspects:');
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
    const axe = await new AxeBuilder({ page }).include('dialog').analyze();
    expect(axe.violations.map((v) => v.id)).toEqual([]);
    expect(problems()).toEqual([]);
    await close();
  });

  it('judges typed readings once a person says that they stood still', async () => {
    const host = await startHost();
    hosts.push(host);
    const bridge = connect(host);
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
      .getByText(/Superheat 10\.\d °F/)
      .first()
      .waitFor();
    expect(problems()).toEqual([]);
    await close();
  });
});
