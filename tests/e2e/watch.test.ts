import { describe, expect, it } from 'vitest';
import type { Page } from 'playwright-core';
import type { Bridge } from '../../electron/bridge/client.ts';
import { connect, onePage, type OpenPage } from './harness.ts';
import { digits, goTo, openDemonstration, startScenario, waitForState } from './steps.ts';

/** The whole path, in the order a technician and a reviewer go it: each step builds on the last. */
let open: OpenPage;
let page: Page;
let bridge: Bridge;
onePage((opened, host) => {
  open = opened;
  page = opened.page;
  bridge = connect(host);
});

/** A figure of the engine, °F with one decimal, as the host knows it now. */
async function fromHost(
  role: 'live' | 'review',
  figure: 'superheat' | 'subcooling',
): Promise<string> {
  const view = await bridge.call('session.current', { role });
  const reading = view.ok ? view.value?.units[0]?.state.figures[figure] : undefined;
  if (reading === undefined) throw new Error(`the host has no ${figure}`);
  return (reading.value * 1.8).toFixed(1);
}

describe('the main job on a simulated unit', () => {
  it('shows a starting unit, why it is not still, and that it is simulated', async () => {
    await openDemonstration(page);
    await startScenario(page, 'Healthy start', 30);
    await waitForState(page, 'Starting');
    expect(await page.locator('.source-banner').innerText()).toMatch(
      /SIMULATED[\s\S]*Healthy start/,
    );
    expect(await page.locator('.slab-reason').innerText()).toMatch(/\w.*\.$/);
    expect(await page.locator('.slab-worth').innerText()).toContain('Too early');
    const count = () => page.locator('.closing-count').innerText();
    await expect.poll(count, { timeout: 30_000 }).toMatch(/^[0-4] of [45] still$/);
    expect(await page.title()).toMatch(/^A Starting.* — Stillpoint$/);
  });

  it('sees it come to rest and says how sure it is', async () => {
    await page.getByLabel('Speed of the session').selectOption('60');
    await waitForState(page, 'Still');
    await page.getByRole('button', { name: 'Pause' }).click();
    await page.getByRole('button', { name: 'Go on' }).waitFor();
    expect(await page.locator('.slab-reason').innerText()).toMatch(
      /should stay within tolerance.*sure/i,
    );
    expect(await page.locator('.closing-count').innerText()).toBe('at rest');
    expect(await page.title()).toMatch(/^A Still — Stillpoint$/);
    for (const figure of ['superheat', 'subcooling'] as const) {
      expect(await digits(page, figure)).toBe(await fromHost('live', figure));
      const pm = await page.locator(`.big[data-figure="${figure}"] .big-pm`).innerText();
      expect(Number(/[\d.]+/.exec(pm)?.[0])).toBeGreaterThan(0.5);
    }
  });

  it('draws every line of the closing-in picture and of the trends', async () => {
    const closing = page.locator('.closing-plot svg');
    expect(await closing.getAttribute('aria-label')).toMatch(
      /Evaporating is .*Condensing is .*Superheat is .*Subcooling is .*Air drop is/,
    );
    for (const channel of ['suctionPressure', 'liquidPressure', 'suctionLineTemp']) {
      const value = page.locator(`.readout[data-channel="${channel}"] .readout-value`);
      expect(await value.innerText()).toMatch(/^\d+\.\d$/);
    }
    const lengths = await page
      .locator('.trend-plot path.recharts-line-curve')
      .evaluateAll((paths) => paths.map((path) => (path as SVGPathElement).getTotalLength()));
    expect(lengths.length).toBeGreaterThanOrEqual(6);
    expect(Math.min(...lengths)).toBeGreaterThan(100);
  });

  it('marks the axes of the trends in round steps', async () => {
    const axes = await page
      .locator('.trend-plot')
      .evaluateAll((plots) =>
        plots.map((plot) =>
          [
            ...plot.querySelectorAll(
              '.recharts-yAxis-tick-labels .recharts-cartesian-axis-tick-value',
            ),
          ].map((mark) => Number(mark.textContent.replace('−', '-'))),
        ),
      );
    expect(axes.length).toBe(2);
    for (const marks of axes) {
      expect(marks.length).toBeGreaterThan(2);
      const [a = NaN, b = NaN] = marks;
      const step = Math.abs(b - a);
      const lead = step / 10 ** Math.floor(Math.log10(step));
      expect([1, 2, 5]).toContain(Number(lead.toFixed(6)));
    }
  });

  it('names the band that all close into', async () => {
    expect(await page.locator('.closing-key').innerText()).toBe('inside its tolerance');
  });

  it('switches units everywhere', async () => {
    const fahrenheit = Number(await digits(page, 'superheat'));
    await page.getByRole('button', { name: '°C kPag' }).click();
    await page.locator('.big-unit', { hasText: 'K' }).first().waitFor();
    expect(Number(await digits(page, 'superheat'))).toBeCloseTo(fahrenheit / 1.8, 0);
    expect(await page.locator('.readout-unit').first().innerText()).toBe('kPag');
    expect(await page.locator('.cycle').innerText()).toContain('°C');
    await page.getByRole('button', { name: '°C barg' }).click();
    await page.locator('.readout-unit', { hasText: 'barg' }).first().waitFor();
    const suction = page.locator('.readout[data-channel="suctionPressure"] .readout-value');
    expect(await suction.innerText()).toMatch(/^\d\.\d\d$/);
    expect(await page.locator('.cycle').innerText()).toContain('barg');
    await page.getByRole('button', { name: '°F psig' }).click();
    await page.locator('.big-unit', { hasText: '°F' }).first().waitFor();
  });

  it('writes a snapshot into the record with the key S', async () => {
    const superheat = await digits(page, 'superheat');
    await page.getByRole('radio', { name: 'After' }).click();
    await page.locator('.closing').click();
    await page.keyboard.press('s');
    await page.locator('.notice', { hasText: 'Snapshot of unit A kept (After)' }).waitFor();
    await goTo(page, 'Job');
    const row = page.locator('.snapshot');
    expect(await row.count()).toBe(1);
    const text = await row.innerText();
    expect(text).toContain('SIMULATED');
    expect(text).toContain('Still');
    expect(text).toContain(`${superheat} °F`);
    await row.locator('summary').click();
    expect(await row.innerText()).toMatch(/SHA-256\s+[0-9a-f]{12}/);
  });

  it('replays the session to the same numbers and verifies the record', async () => {
    await page.getByRole('button', { name: 'Stop session' }).click();
    await goTo(page, 'Review');
    await page.getByRole('button', { name: 'Replay' }).click();
    await page.getByRole('region', { name: 'Playback' }).waitFor();
    const end = Number(await page.getByLabel('Position').getAttribute('max'));
    await page.getByLabel('Position').fill(String(Math.floor(end * 0.3)));
    await waitForState(page, 'Starting');
    await page.getByLabel('Position').fill(String(end));
    await waitForState(page, 'Still');
    expect(await page.locator('.source-banner').innerText()).toContain('SIMULATED');
    expect(await digits(page, 'superheat')).toBe(await fromHost('review', 'superheat'));
    await page.getByRole('button', { name: 'Verify the record' }).click();
    const verdict = page.locator('.verdict');
    await verdict.waitFor();
    expect(await verdict.innerText()).toContain('It agrees');
    expect(await page.locator('.verify tbody tr').innerText()).toMatch(/After\s+agree\s+agree/);
    await page.keyboard.press('Escape');
  });

  it('recomputes with another refrigerant beside the recorded numbers', async () => {
    await page.getByRole('button', { name: 'Recompute otherwise' }).click();
    await page.getByLabel('Refrigerant').selectOption('R-22');
    await page.getByRole('button', { name: 'Compute again' }).click();
    const row = page.locator('.comparison tr', { hasText: 'Superheat' }).first();
    await row.waitFor();
    const [recorded = NaN, otherwise = NaN] = [
      ...(await row.innerText()).matchAll(/(−?[\d.]+) °F/g),
    ].map((match) => Number(match[1]?.replace('−', '-')));
    expect(recorded.toFixed(1)).toBe(await fromHost('review', 'superheat'));
    // At one pressure R-22 boils far warmer than R-410A, so the same pipe shows far less superheat.
    expect(recorded - otherwise).toBeGreaterThan(20);
    await page.keyboard.press('Escape');
  });

  it('has had no error on the page all the while', () => {
    expect(open.problems()).toEqual([]);
  });
});
