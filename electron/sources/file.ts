import type { Sample, UnitKey } from '../../core/stream/sample.ts';
import type { Clock } from '../clock.ts';
import { rowSamples, type CsvTable } from './csv-table.ts';
import { PacedSource, type Timeline } from './paced-source.ts';
import type { SteerableSource } from './source.ts';

/** Plays the rows of a table; its first row is time zero. */
function tableTimeline(table: CsvTable, unit: UnitKey): Timeline {
  const start = table.times[0] ?? 0;
  const rows = table.times.length;
  let next = 0;
  return {
    duration: (table.times[rows - 1] ?? start) - start,
    until(t) {
      const samples: Sample[] = [];
      while (next < rows && (table.times[next] ?? NaN) - start <= t) {
        for (const sample of rowSamples(table, next)) {
          samples.push({ ...sample, t: sample.t - start });
        }
        next += 1;
      }
      return samples.length === 0 ? [] : [{ unit, samples }];
    },
    done: () => next >= rows,
  };
}

/** A logged table as a source: the rows arrive as they were logged, or faster. */
export function createFileSource(options: {
  readonly table: CsvTable;
  readonly unit: UnitKey;
  readonly speed: number;
  readonly clock: Clock;
}): SteerableSource {
  return new PacedSource({
    kind: 'file',
    capabilities: ['play', 'speed'],
    clock: options.clock,
    speed: options.speed,
    open: () => tableTimeline(options.table, options.unit),
  });
}
