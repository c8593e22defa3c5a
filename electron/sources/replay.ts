import type { Sample, UnitKey } from '../../core/stream/sample.ts';
import type { JobFile } from '../jobfile/types.ts';
import type { Clock } from '../clock.ts';
import { PacedSource, type Timeline } from './paced-source.ts';
import type { SteerableSource } from './source.ts';

/** What a replay needs of a job file. */
export type Recording = Pick<JobFile, 'samples'>;

/** One unit's samples in order of arrival, read as they are needed. */
class StreamReader {
  readonly unit: UnitKey;
  readonly #chunks: Iterator<readonly Sample[]>;
  #chunk: readonly Sample[] = [];
  #at = 0;
  #ended = false;

  constructor(unit: UnitKey, chunks: Iterable<readonly Sample[]>) {
    this.unit = unit;
    this.#chunks = chunks[Symbol.iterator]();
    this.#fill();
  }

  get ended(): boolean {
    return this.#ended;
  }

  /**
   * Samples up to the first that is later than t: their order of arrival is kept, so a late sample
   * comes when it came.
   */
  until(t: number): Sample[] {
    const samples: Sample[] = [];
    for (;;) {
      const sample = this.#chunk[this.#at];
      if (sample === undefined || sample.t > t) return samples;
      samples.push(sample);
      this.#at += 1;
      if (this.#at >= this.#chunk.length) this.#fill();
    }
  }

  #fill(): void {
    const next = this.#chunks.next();
    this.#ended = next.done === true;
    this.#chunk = next.done === true ? [] : next.value;
    this.#at = 0;
  }
}

function recordedTimeline(
  recording: Recording,
  sessionId: string,
  units: readonly UnitKey[],
  duration: number,
): Timeline {
  const readers = units.map((unit) => new StreamReader(unit, recording.samples(sessionId, unit)));
  return {
    duration,
    until: (t) =>
      readers
        .map((reader) => ({ unit: reader.unit, samples: reader.until(t) }))
        .filter(({ samples }) => samples.length > 0),
    done: () => readers.every((reader) => reader.ended),
  };
}

/**
 * A recorded session as a source. Samples come in the order in which they once arrived; a jump
 * begins another epoch and gives everything from the start up to the new position, so that whoever
 * listens is in the state in which it then was.
 *
 * @param options.duration time of the last sample, s
 */
export function createReplaySource(options: {
  readonly recording: Recording;
  readonly sessionId: string;
  readonly units: readonly UnitKey[];
  readonly duration: number;
  readonly speed: number;
  readonly clock: Clock;
}): SteerableSource {
  const { recording, sessionId, units, duration } = options;
  return new PacedSource({
    kind: 'replay',
    capabilities: ['play', 'seek', 'speed'],
    clock: options.clock,
    speed: options.speed,
    open: () => recordedTimeline(recording, sessionId, units, duration),
  });
}
