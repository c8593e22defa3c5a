import { afterEach, describe, expect, it } from 'vitest';
import type { Batch, Sample } from '../../../core/stream/sample.ts';
import type { RadioClock } from '../../../electron/radio/clock.ts';
import { systemClock } from '../../../electron/radio/clock.ts';
import type { Health } from '../../../electron/sources/source.ts';
import { sourceContract } from '../source-contract.ts';
import {
  assignManifold,
  fakeRadio,
  makeRadioSourceForContract,
  MANIFOLD,
  u32,
  until,
  type FakeRadio,
} from './fake-radio.ts';

let end: (() => Promise<void>) | null = null;
afterEach(async () => {
  await end?.();
  end = null;
});

/** A radio with ears, whose sensor sends all the time: what its source said and handed over. */
function listenTo(fake: FakeRadio) {
  const timer = setInterval(() => {
    fake.send(fake.suction, fake.suction.value);
    fake.send(fake.liquid, fake.liquid.value);
  }, 50);
  end = async () => {
    clearInterval(timer);
    await fake.end();
  };
  const samples: Sample[] = [];
  const batches: Batch[] = [];
  const health: Health[] = [];
  fake.source.onBatch((batch) => {
    batches.push(batch);
    samples.push(...batch.samples);
  });
  fake.source.onHealth((h) => health.push(h));
  return { ...fake, samples, batches, health, last: () => samples.at(-1) };
}

sourceContract('radio', makeRadioSourceForContract);

describe('time and listeners', () => {
  it('goes on from a given time, and forgets a listener that left', async () => {
    const fake = listenTo(fakeRadio({ startAt_s: 1000 }));
    assignManifold(fake.memory);
    let extra = 0;
    const off = fake.source.onBatch(() => (extra += 1));
    off();
    await fake.source.start();
    await until('a value', () => fake.samples.length > 0);
    expect(fake.samples[0]?.t).toBeGreaterThanOrEqual(1000);
    expect(extra).toBe(0);
  });
});

describe('values over injected bindings', () => {
  it('tells two instances apart by handle where the bindings know handles', async () => {
    const fake = listenTo(fakeRadio());
    assignManifold(fake.memory);
    await fake.source.start();
    await until('subscribed', () => fake.suction.subscribed && fake.liquid.subscribed);
    fake.send(fake.suction, u32(8_100_000));
    fake.send(fake.liquid, u32(25_000_000));
    const of = (channel: string) => fake.samples.filter((s) => s.channel === channel).at(-1);
    await until('the first', () => of('suctionPressure')?.value === 910_000);
    await until('the second', () => of('liquidPressure')?.value === 2_600_000);
    expect(new Set(fake.samples.map((s) => `${s.channel} ${s.value}`)).size).toBeLessThanOrEqual(4);
  });

  it('delivers the one instance it can reach where they do not, to the right channel', async () => {
    const fake = listenTo(fakeRadio({ handles: false }));
    assignManifold(fake.memory);
    await fake.source.start();
    await until('subscribed', () => fake.liquid.subscribed);
    fake.send(fake.liquid, u32(25_000_000));
    await until('its value', () => fake.last()?.value === 2_600_000);
    expect(fake.samples.every((s) => s.channel === 'liquidPressure')).toBe(true);
  });

  it('asks where a subscription is refused', async () => {
    const fake = listenTo(fakeRadio());
    Object.assign(fake.suction, { refusesSubscription: true });
    assignManifold(fake.memory);
    await fake.source.start();
    await until(
      'three polled values',
      () => fake.samples.filter((s) => s.channel === 'suctionPressure').length >= 3,
      15,
    );
  });
});

describe('states of the adapter', () => {
  it.each([
    ['poweredOff', 'RADIO_OFF'],
    ['unauthorized', 'RADIO_UNAUTHORIZED'],
    ['unsupported', 'RADIO_UNSUPPORTED'],
  ])('%s is a state with a tip', async (state, code) => {
    const fake = listenTo(fakeRadio({ state }));
    assignManifold(fake.memory);
    await fake.source.start();
    expect(fake.health.at(-1)).toMatchObject({ state: 'unavailable', alert: { code } });
    expect(fake.health.at(-1)?.alert?.tip.length).toBeGreaterThan(10);
  });

  it('an adapter that cannot be loaded, started or used is a state', async () => {
    const load = (): never => {
      throw new Error('EAFNOSUPPORT, Address family not supported by protocol');
    };
    for (const [over, code] of [
      [{ load }, 'RADIO_ABSENT'],
      [{ failure: 'ENODEV, No such device' }, 'RADIO_ABSENT'],
      [{ failure: 'EPERM, Operation not permitted' }, 'RADIO_UNAUTHORIZED'],
    ] as const) {
      const fake = listenTo(fakeRadio(over));
      await fake.source.start();
      expect(fake.health.at(-1)).toMatchObject({ state: 'unavailable', alert: { code } });
      await end?.();
    }
    end = null;
  });

  it('says that no sensor is assigned', async () => {
    const fake = listenTo(fakeRadio());
    await fake.source.start();
    expect(fake.health.at(-1)).toMatchObject({ state: 'running', alert: { code: 'NO_SENSORS' } });
  });

  it('switched off and on again, goes on by itself with the gap on record', async () => {
    const fake = listenTo(fakeRadio());
    assignManifold(fake.memory);
    await fake.source.start();
    await until('a value', () => fake.samples.length > 0);
    fake.bindings().become('poweredOff');
    await until('off', () => fake.health.at(-1)?.alert?.code === 'RADIO_OFF');
    await until('the gap', () => fake.samples.some((s) => s.value === null && s.why === 'lost'));
    fake.bindings().become('poweredOn');
    await until('a new process', () => fake.radio.started() === 2);
    await until('values again', () => fake.last()?.value !== null, 15);
  });
});

describe('faults', () => {
  it('a lost link is a gap, and the sensor is found again', async () => {
    const fake = listenTo(fakeRadio());
    assignManifold(fake.memory);
    await fake.source.start();
    await until('a value', () => fake.samples.length > 0);
    fake.bindings().lose(MANIFOLD);
    await until('gaps', () => fake.samples.filter((s) => s.value === null).length === 2);
    expect(fake.health.at(-1)?.state).toBe('reconnecting');
    await until('linked again', () => fake.bindings().isConnected(MANIFOLD));
    await until('values again', () => fake.last()?.value !== null, 15);
    await until('well', () => fake.health.at(-1)?.alert === null);
  });

  it('a crash is a gap "restarted", and another process takes over', async () => {
    const fake = listenTo(fakeRadio());
    assignManifold(fake.memory);
    await fake.source.start();
    await until('a value', () => fake.samples.length > 0);
    fake.radio.crash();
    await until(
      'gaps',
      () => fake.samples.filter((s) => s.value === null && s.why === 'restarted').length === 2,
    );
    expect(fake.health.at(-1)).toMatchObject({
      state: 'reconnecting',
      alert: { code: 'RADIO_RESTARTED' },
    });
    await until('values again', () => fake.last()?.value !== null, 15);
    expect(fake.radio.started()).toBe(2);
  });

  it('a process without a sign of life is ended and replaced', async () => {
    let ahead = 0;
    const clock: RadioClock = { ...systemClock, now: () => systemClock.now() + ahead };
    const fake = listenTo(fakeRadio({ clock }));
    assignManifold(fake.memory);
    await fake.source.start();
    await until('a value', () => fake.samples.length > 0);
    fake.radio.hang();
    ahead = 60;
    await until('another process', () => fake.radio.started() === 2);
    expect(fake.samples.some((s) => s.value === null && s.why === 'restarted')).toBe(true);
  });

  it('messages of another form are dropped', async () => {
    const fake = listenTo(fakeRadio());
    assignManifold(fake.memory);
    await fake.source.start();
    await until('a value', () => fake.samples.length > 0);
    const count = fake.samples.length;
    const value = {
      type: 'value',
      id: MANIFOLD,
      t: 1,
      service: '181a',
      characteristic: '2a6d',
      instance: 1,
    };
    for (const message of [
      null,
      7,
      'x',
      {},
      { type: 'value' },
      { ...value, data: 'xyz' },
      { ...value, data: '00', t: NaN },
    ]) {
      fake.radio.babble(message);
    }
    await new Promise((resolve) => setTimeout(resolve, 200));
    expect(fake.samples.slice(count).every((s) => s.t > 0.01 && s.value !== null)).toBe(true);
    expect(fake.radio.started()).toBe(1);
  });
});
