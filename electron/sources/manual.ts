import type { ChannelKey } from '../../core/stream/channels.ts';
import type { Batch, UnitKey } from '../../core/stream/sample.ts';
import type { Clock } from '../clock.ts';
import { createEmitter } from './emitter.ts';
import type { Health, Source } from './source.ts';

/** A source of numbers typed from analogue gauges and thermometers. */
export interface ManualSource extends Source {
  /**
   * Takes typed values (SI), all read at this moment. Nothing is repeated or invented between two
   * entries. Throws when the source is not running.
   */
  enter(values: readonly { readonly channel: ChannelKey; readonly value: number }[]): void;
}

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

  return {
    kind: 'manual',
    capabilities: ['enter'],
    start() {
      if (startedAt === null) {
        startedAt = clock.now();
        epoch += 1;
        healths.emit({ state: 'starting', alert: null });
        healths.emit({ state: 'running', alert: null });
      }
      return Promise.resolve();
    },
    stop() {
      if (startedAt !== null) {
        startedAt = null;
        healths.emit({ state: 'off', alert: null });
      }
      return Promise.resolve();
    },
    onBatch: (fn) => batches.on(fn),
    onHealth: (fn) => healths.on(fn),
    enter(values) {
      if (startedAt === null) throw new Error('the manual source is not running');
      const t = (clock.now() - startedAt) / 1000;
      batches.emit({ epoch, unit, samples: values.map((v) => ({ ...v, t })) });
    },
  };
}
