import type { ChannelKey } from '../../core/stream/channels.ts';
import type { Batch, Sample, UnitKey } from '../../core/stream/sample.ts';
import type { Clock } from '../clock.ts';
import { createEmitter } from './emitter.ts';
import type { Health, Source } from './source.ts';

/** A source of numbers typed from analogue gauges and thermometers. */
export interface ManualSource extends Source {
  /**
   * Takes typed values (SI), all read at this moment. Nothing is repeated or invented between two
   * entries; that no more came is told once a little later, so that the stream's time passes and the
   * entry can be read. Throws when the source is not running.
   */
  enter(values: readonly { readonly channel: ChannelKey; readonly value: number }[]): void;
}

/** After an entry it is said so much later that nothing came since, ms: past the lateness of the bins. */
const UNTYPED_MS = 2500;
const TICK_MS = 500;

/** @param options.unit the unit whose instruments are read */
export function createManualSource(options: {
  readonly unit: UnitKey;
  readonly clock: Clock;
}): ManualSource {
  const { unit, clock } = options;
  const batches = createEmitter<Batch>();
  const healths = createEmitter<Health>();
  let startedAt: number | null = null;
  let epoch = 0;
  /** Channels of the latest entries, until it is told that nothing came since; and when that was. */
  const entered = new Set<ChannelKey>();
  let enteredAt = 0;
  let endTimer = (): void => undefined;

  const seconds = (): number => (clock.now() - (startedAt ?? clock.now())) / 1000;
  const tellUntyped = (): void => {
    if (entered.size === 0 || clock.now() - enteredAt < UNTYPED_MS) return;
    const t = seconds();
    const samples = [...entered].map((channel): Sample => ({
      channel,
      t,
      value: null,
      why: 'untyped',
    }));
    entered.clear();
    batches.emit({ epoch, unit, samples });
  };

  return {
    kind: 'manual',
    capabilities: ['enter'],
    start() {
      if (startedAt === null) {
        startedAt = clock.now();
        epoch += 1;
        endTimer = clock.every(TICK_MS, tellUntyped);
        healths.emit({ state: 'starting', alert: null });
        healths.emit({ state: 'running', alert: null });
      }
      return Promise.resolve();
    },
    stop() {
      if (startedAt !== null) {
        startedAt = null;
        endTimer();
        entered.clear();
        healths.emit({ state: 'off', alert: null });
      }
      return Promise.resolve();
    },
    onBatch: (fn) => batches.on(fn),
    onHealth: (fn) => healths.on(fn),
    enter(values) {
      if (startedAt === null) throw new Error('the manual source is not running');
      const t = seconds();
      for (const { channel } of values) entered.add(channel);
      enteredAt = clock.now();
      batches.emit({ epoch, unit, samples: values.map((v) => ({ ...v, t })) });
    },
  };
}
