import { describe, expect, it } from 'vitest';
import type { Batch } from '../../core/stream/sample.ts';
import type { Health, Source } from '../../electron/sources/source.ts';

/** What the suite needs of each implementation. */
export interface SourceRig {
  readonly source: Source;
  /** Lets so much time pass, and makes the world deliver what it would in it. */
  pass(ms: number): Promise<void>;
  /** Listeners left on the source. */
  listeners(): number;
  /** Tidies up after a test. */
  close(): Promise<void>;
}

/**
 * What every source promises, run against each implementation.
 *
 * @param name of the implementation
 * @param makeRig a fresh source in a world of its own
 */
export function sourceContract(name: string, makeRig: () => Promise<SourceRig>): void {
  const withRig = async (test: (rig: SourceRig) => Promise<void>): Promise<void> => {
    const rig = await makeRig();
    try {
      await test(rig);
    } finally {
      await rig.source.stop();
      await rig.close();
    }
  };

  describe(`${name}: the contract of a source`, () => {
    it('delivers samples after start and none before', () =>
      withRig(async (rig) => {
        const batches: Batch[] = [];
        rig.source.onBatch((batch) => batches.push(batch));
        await rig.pass(1000);
        expect(batches).toEqual([]);
        await rig.source.start();
        await rig.pass(3000);
        expect(batches.flatMap((batch) => batch.samples).length).toBeGreaterThan(0);
      }));

    it('keeps times in order for each channel within an epoch', () =>
      withRig(async (rig) => {
        const last = new Map<string, number>();
        rig.source.onBatch((batch) => {
          for (const sample of batch.samples) {
            const key = `${batch.epoch}/${batch.unit}/${sample.channel}`;
            expect(sample.t).toBeGreaterThanOrEqual(last.get(key) ?? -Infinity);
            last.set(key, sample.t);
          }
        });
        await rig.source.start();
        await rig.pass(5000);
        expect(last.size).toBeGreaterThan(0);
      }));

    it('hands over at most ten batches a second and unit', () =>
      withRig(async (rig) => {
        let batches = 0;
        const units = new Set<string>();
        rig.source.onBatch((batch) => {
          batches += 1;
          units.add(batch.unit);
        });
        await rig.source.start();
        await rig.pass(3000);
        expect(batches).toBeGreaterThan(0);
        expect(batches).toBeLessThanOrEqual(31 * units.size);
      }));

    it('delivers nothing after stop, and may be stopped twice', () =>
      withRig(async (rig) => {
        let batches = 0;
        rig.source.onBatch(() => (batches += 1));
        await rig.source.start();
        await rig.pass(2000);
        await rig.source.stop();
        const before = batches;
        await rig.pass(3000);
        await rig.source.stop();
        expect(batches).toBe(before);
      }));

    it('tells its health: running after start, off after stop', () =>
      withRig(async (rig) => {
        const states: Health['state'][] = [];
        rig.source.onHealth((health) => states.push(health.state));
        await rig.source.start();
        await rig.pass(1500);
        expect(states).toContain('running');
        await rig.source.stop();
        await rig.pass(100);
        expect(states.at(-1)).toBe('off');
      }));

    it('begins another epoch when it is started again', () =>
      withRig(async (rig) => {
        const epochs = new Set<number>();
        rig.source.onBatch((batch) => epochs.add(batch.epoch));
        await rig.source.start();
        await rig.pass(2000);
        await rig.source.stop();
        expect(epochs.size).toBe(1);
        await rig.source.start();
        await rig.pass(2000);
        expect(epochs.size).toBe(2);
      }));

    it('forgets a listener that has left', () =>
      withRig(async (rig) => {
        const before = rig.listeners();
        let heard = 0;
        for (let i = 0; i < 50; i += 1) {
          const offBatch = rig.source.onBatch(() => (heard += 1));
          const offHealth = rig.source.onHealth(() => (heard += 1));
          offBatch();
          offHealth();
          offBatch();
        }
        expect(rig.listeners()).toBe(before);
        await rig.source.start();
        await rig.pass(1000);
        expect(heard).toBe(0);
      }));
  });
}
