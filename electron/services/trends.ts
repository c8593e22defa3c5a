import { figureColumn } from '../../core/circuit/content.ts';
import type { FigureKey } from '../../core/circuit/types.ts';
import { decimateMinMax } from '../../core/stream/decimate.ts';
import type { ChannelKey } from '../../core/stream/channels.ts';
import type { Sample } from '../../core/stream/sample.ts';
import type { TrendLine } from '../bridge/views.ts';
import { TrendSeries } from './trend-series.ts';

/** Figures whose course is drawn, frame by frame. */
const TREND_FIGURES = [
  'superheat',
  'subcooling',
  'suctionSaturation',
  'liquidSaturation',
] as const satisfies readonly FigureKey[];

/** What a chart asks for. */
export interface TrendQuery {
  readonly keys: readonly string[];
  readonly from: number;
  readonly to: number;
  readonly points: number;
}

/**
 * The trends of one unit: its raw channels sample by sample and its main figures frame by frame,
 * each line in bounded memory.
 */
export class UnitTrends {
  readonly #lines = new Map<string, TrendSeries>();

  /** Takes samples in order of arrival; a gap breaks the line of its channel. */
  push(samples: readonly Sample[]): void {
    for (const sample of samples) {
      this.#line(sample.channel).push(sample.t, sample.value ?? NaN);
    }
  }

  /** Takes a frame of the engine (its `FrameObserver`). */
  frame(t: number, columns: Float64Array): void {
    for (const key of TREND_FIGURES) {
      const value = columns[figureColumn(key)] ?? NaN;
      // A line begins with its first value, not with the time before it.
      if (!Number.isNaN(value) || this.#lines.has(key)) this.#line(key).push(t, value);
    }
  }

  /** Time jumped: what was drawn belongs to another epoch. */
  clear(): void {
    for (const line of this.#lines.values()) line.clear();
  }

  /** One line for each key asked for, empty where nothing is known of it; SI values. */
  query(query: TrendQuery): TrendLine[] {
    return query.keys.map((key) => {
      const line = this.#lines.get(key);
      return {
        key,
        points:
          line === undefined
            ? []
            : decimateMinMax(line.between(query.from, query.to), query.points),
      };
    });
  }

  #line(key: ChannelKey | FigureKey): TrendSeries {
    let line = this.#lines.get(key);
    if (line === undefined) {
      line = new TrendSeries();
      this.#lines.set(key, line);
    }
    return line;
  }
}
