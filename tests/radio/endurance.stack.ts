import { afterAll, beforeAll, expect, it } from 'vitest';
import { makeRig, remember, until, type Rig } from './rig.ts';
import { World } from './world.ts';

/** 10 Hz for five real minutes; shorter only while developing (`--quick`). */
const HZ = 10;
const SECONDS = process.env['RADIO_QUICK'] === '1' ? 20 : 300;
const COUNT = HZ * SECONDS;
const MANIFOLD = 'f00000000001';

let world: World;
let rig: Rig;

beforeAll(async () => {
  world = await World.start(process.env['RADIO_PYTHON'] ?? '');
  rig = await makeRig(world.port);
});
afterAll(async () => {
  await rig.end();
  await world.stop();
});

it(
  `loses and doubles no sample of four channels at ${HZ} Hz in ${SECONDS} s`,
  async () => {
    remember(
      rig,
      MANIFOLD,
      {
        '181a/2a6d/Suction pressure~lower': 'suctionPressure',
        '181a/2a6d/Liquid pressure~upper': 'liquidPressure',
        '181a/2a6e/Suction line~lower': 'suctionLineTemp',
        '181a/2a6e/Liquid line~upper': 'liquidLineTemp',
      },
      { description: null },
    );
    await rig.source.start();
    await until('subscribed', () => rig.of('liquidLineTemp').length > 0);
    await world.order('manifold', 'stream', { hz: HZ, count: COUNT });
    const sent = Array.from({ length: COUNT }, (_, n) => n);
    // The values are counters: in 0.1 Pa from 100 000 Pa, and in 0.01 K from -150 °C and 0 °C.
    const counted = (channel: Parameters<Rig['of']>[0], toCount: (value: number) => number) =>
      rig.of(channel).map((s) => (s.value === null ? null : Math.round(toCount(s.value))));
    const stream = () => ({
      suctionPressure: counted('suctionPressure', (p) => (p - 84_000) * 10 - 1_000_000),
      liquidPressure: counted('liquidPressure', (p) => (p - 84_000) * 10 - 2_000_000),
      suctionLineTemp: counted('suctionLineTemp', (t) => (t - 273.15) * 100 + 15_000),
      liquidLineTemp: counted('liquidLineTemp', (t) => (t - 273.15) * 100),
    });
    await until('the last one', () => stream().liquidLineTemp.at(-1) === COUNT - 1);
    for (const [channel, counts] of Object.entries(stream())) {
      const start = counts.indexOf(0);
      expect(counts.slice(start), channel).toEqual(sent);
    }
    const times = rig.of('suctionPressure').map((s) => s.t);
    const span = times.at(-1)! - times[times.length - COUNT]!;
    console.log(`${COUNT} of ${COUNT} samples on each channel in ${span.toFixed(1)} s`);
    expect(span).toBeGreaterThan(0.95 * SECONDS - 0.2);
  },
  (SECONDS + 60) * 1000,
);
