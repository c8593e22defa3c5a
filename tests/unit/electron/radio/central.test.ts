import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { Central } from '../../../../electron/radio/central.ts';
import type { Notice } from '../../../../electron/radio/messages.ts';
import { FakeBindings, type FakePeripheral } from '../../../contract/radio/fake-bindings.ts';
import { nobleWith } from '../../../radio/noble-with.ts';

beforeEach(() => {
  vi.useFakeTimers({
    toFake: ['setTimeout', 'clearTimeout', 'setInterval', 'clearInterval', 'Date'],
  });
});
afterEach(() => vi.useRealTimers());

const mute = (id: string): FakePeripheral => ({ id, name: id, characteristics: [], mute: true });
const answering = (id: string): FakePeripheral => ({ ...mute(id), mute: false });

/** Lets time pass in small steps, with what comes between timers. */
async function pass(ms: number): Promise<void> {
  for (let t = 0; t < ms; t += 50) {
    await new Promise((resolve) => setImmediate(resolve));
    await vi.advanceTimersByTimeAsync(50);
  }
}

/** A central over sensors, asked to link all of them. */
function centralOver(peripherals: readonly FakePeripheral[]) {
  const bindings = new FakeBindings({ peripherals, handles: true });
  const notices: Notice[] = [];
  const stuck: string[] = [];
  const central = new Central(
    nobleWith(bindings),
    () => Date.now() / 1000,
    (notice) => notices.push(notice),
    (why) => stuck.push(why),
  );
  const links = peripherals.map(({ id }) => ({ id, follow: [] }));
  central.handle({ type: 'targets', links, listen: false });
  const attempts = (id: string) =>
    notices.flatMap((n) =>
      n.type === 'link' && n.id === id && n.state === 'connecting' ? n.t : [],
    );
  return { central, bindings, notices, stuck, attempts };
}

describe('connecting', () => {
  it('tries one sensor that does not answer less and less often, and calls nothing stuck', async () => {
    const { bindings, attempts, stuck } = centralOver([mute('aa')]);
    await pass(240_000);
    const pauses = attempts('aa')
      .map((t, i, all) => t - (all[i - 1] ?? t) - 12)
      .slice(1);
    // 12 s without an answer, then 1, 2, 4, 8, 16 and 30 s before the next attempt.
    expect(pauses.map((s) => Math.round(s))).toEqual([1, 2, 4, 8, 16, 30, 30, 30]);
    expect(stuck).toEqual([]);
    bindings.quiet();
  });

  it('takes several sensors in a row without an answer for a stuck radio', async () => {
    const { bindings, stuck } = centralOver([mute('aa'), mute('bb')]);
    await pass(60_000);
    expect(stuck[0]).toContain('several sensors');
    bindings.quiet();
  });

  it('goes on with the others while one does not answer', async () => {
    const { bindings, stuck } = centralOver([mute('aa'), answering('bb'), answering('cc')]);
    await pass(120_000);
    expect(bindings.isConnected('bb')).toBe(true);
    expect(bindings.isConnected('cc')).toBe(true);
    expect(stuck).toEqual([]);
    bindings.quiet();
  });

  it('scans only while it waits for something, and not while it connects', async () => {
    const { bindings, central } = centralOver([answering('aa')]);
    await pass(3000);
    expect(bindings.isConnected('aa')).toBe(true);
    expect(bindings.scanning).toBe(false);
    central.handle({ type: 'scan', on: true });
    expect(bindings.scanning).toBe(true);
    central.handle({ type: 'scan', on: false });
    expect(bindings.scanning).toBe(false);
    const ended = central.end();
    await pass(1000);
    await ended;
    expect(bindings.isConnected('aa')).toBe(false);
    bindings.quiet();
  });
});
