import { describe, expect, it } from 'vitest';
import { createRun } from '../../../core/plant/run.ts';
import type { Sample } from '../../../core/stream/sample.ts';
import type { PacedSource } from '../../../electron/sources/paced-source.ts';
import { createSimulatedSource } from '../../../electron/sources/simulated.ts';
import { FakeClock } from '../../support/fake-clock.ts';
import { testScenario } from '../../support/scenario.ts';
import { sourceContract } from '../source-contract.ts';

const scenario = testScenario();

sourceContract('simulated', () => {
  const clock = new FakeClock();
  const source = createSimulatedSource({ scenario, speed: 1, clock }) as unknown as PacedSource;
  return Promise.resolve({
    source,
    pass: (ms: number) => {
      clock.advance(ms);
      return Promise.resolve();
    },
    listeners: () => source.listenerCount(),
    close: () => Promise.resolve(),
  });
});

/** Plays to the end and returns what came. */
async function played(speed: number, from?: number): Promise<Sample[]> {
  const clock = new FakeClock();
  const source = createSimulatedSource({
    scenario,
    speed,
    clock,
    ...(from === undefined ? {} : { from }),
  });
  const got: Sample[] = [];
  source.onBatch((batch) => got.push(...batch.samples));
  await source.start();
  if (from !== undefined) expect(source.playback().position).toBe(from);
  clock.advance((1000 * scenario.duration_s) / speed + 1000);
  expect(source.playback()).toMatchObject({ playing: false, duration: scenario.duration_s });
  await source.stop();
  return got;
}

describe('simulated source', () => {
  it('gives the very samples of the plant, at any speed', async () => {
    const whole = createRun(scenario).advanceTo(scenario.duration_s)[0]?.samples;
    expect(whole?.length).toBeGreaterThan(1000);
    expect(await played(7)).toEqual(whole);
    expect(await played(1000)).toEqual(whole);
  });

  it('goes on from where a session broke off', async () => {
    const whole = await played(1000);
    const rest = await played(1000, 60);
    expect(rest.length).toBeLessThan(whole.length);
    expect(rest).toEqual(whole.slice(-rest.length));
    expect(rest[0]?.t).toBeGreaterThanOrEqual(60);
  });
});
