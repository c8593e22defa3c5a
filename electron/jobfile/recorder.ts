import type { Sample, UnitKey } from '../../core/stream/sample.ts';
import { completeChannelIds, type ChannelIds } from './channel-ids.ts';
import { prepareToWrite, type Db } from './database.ts';
import { createSampleHash, type SampleHash } from './sample-hash.ts';
import type { Actor, SessionRecorder, StreamSeal } from './types.ts';

/** Samples are on the disk this long after they came, at the latest. */
const FLUSH_MS = 400;
/** A burst is written at once when it is this long, so that memory stays bounded. */
const FLUSH_SAMPLES = 20_000;

const INSERT =
  'INSERT INTO sample (stream, ordinal, channel, t, value, why, seq, device_time) VALUES (?, ?, ?, ?, ?, ?, ?, ?)';

interface Stream {
  readonly id: number;
  count: number;
  readonly hash: SampleHash;
}

interface RecorderOptions {
  readonly db: Db;
  readonly sessionId: string;
  /** What was recorded before, for a session that goes on. */
  readonly before: (unit: UnitKey) => Iterable<readonly Sample[]>;
  readonly units: readonly UnitKey[];
  /** Told once: the end with its seals, or null where the session stays unfinished. */
  readonly onEnd: (
    end: { readonly by: Actor; readonly seals: readonly StreamSeal[] } | null,
  ) => void;
}

/** @throws RangeError for a number that the table of samples cannot hold */
function checkSample({ channel, t, value, seq, deviceTime_s }: Sample): void {
  const numbers = [t, value ?? 0, deviceTime_s ?? 0];
  if (numbers.every(Number.isFinite) && Number.isSafeInteger(seq ?? 0)) return;
  throw new RangeError(
    `a sample of ${channel} cannot be kept: t ${t}, value ${value}, seq ${seq}, device time ${deviceTime_s}`,
  );
}

/** Appends samples in transactions: at most 400 ms wait between arrival and disk. */
export class SqliteRecorder implements SessionRecorder {
  readonly sessionId: string;
  readonly #db: Db;
  readonly #streams = new Map<UnitKey, Stream>();
  readonly #pending: { readonly stream: Stream; readonly sample: Sample }[] = [];
  readonly #channels: ChannelIds;
  readonly #timer: ReturnType<typeof setInterval>;
  readonly #onEnd: RecorderOptions['onEnd'];
  /** An error of a timed flush, thrown at the next call. */
  #failure: Error | null = null;
  #open = true;

  constructor(options: RecorderOptions) {
    this.sessionId = options.sessionId;
    this.#db = options.db;
    this.#onEnd = options.onEnd;
    prepareToWrite(this.#db);
    this.#channels = completeChannelIds(this.#db);
    for (const unit of options.units) this.#addStream(unit, options.before(unit));
    this.#timer = setInterval(() => {
      try {
        this.#write();
      } catch (error) {
        this.#failure = error instanceof Error ? error : new Error('the disk said no');
      }
    }, FLUSH_MS);
    this.#timer.unref();
  }

  append(unit: UnitKey, samples: readonly Sample[]): void {
    this.#check();
    const stream = this.#streams.get(unit);
    if (stream === undefined) throw new RangeError(`unit ${unit} is not in this session`);
    // Before any is taken: one that no row can hold would hold up all that come after it.
    samples.forEach(checkSample);
    for (const sample of samples) this.#pending.push({ stream, sample });
    if (this.#pending.length >= FLUSH_SAMPLES) this.#write();
  }

  flush(): void {
    this.#check();
    this.#write();
  }

  mark(unit: UnitKey): { readonly sampleCount: number; readonly sampleHash: string } {
    this.flush();
    const stream = this.#streams.get(unit);
    if (stream === undefined) throw new RangeError(`unit ${unit} is not in this session`);
    return { sampleCount: stream.count, sampleHash: stream.hash.digest() };
  }

  end(by: Actor): void {
    this.flush();
    const seals = [...this.#streams].map(([unit, { count, hash }]) => ({
      unit,
      sampleCount: count,
      sampleHash: hash.digest(),
    }));
    this.#close({ by, seals });
  }

  release(): void {
    if (!this.#open) return;
    try {
      this.#write();
    } finally {
      this.#close(null);
    }
  }

  #close(end: Parameters<RecorderOptions['onEnd']>[0]): void {
    this.#open = false;
    clearInterval(this.#timer);
    this.#onEnd(end);
  }

  #check(): void {
    if (!this.#open) throw new Error('the recording has ended');
    if (this.#failure !== null) {
      const failure = this.#failure;
      this.#failure = null;
      throw failure;
    }
  }

  #addStream(unit: UnitKey, before: Iterable<readonly Sample[]>): void {
    this.#db.run('INSERT OR IGNORE INTO stream (session_id, unit) VALUES (?, ?)', [
      this.sessionId,
      unit,
    ]);
    const row = this.#db.get('SELECT id FROM stream WHERE session_id = ? AND unit = ?', [
      this.sessionId,
      unit,
    ]) as { id: number } | null;
    if (row === null) throw new Error(`no stream for unit ${unit}`);
    const stream: Stream = { id: row.id, count: 0, hash: createSampleHash() };
    for (const chunk of before) {
      for (const sample of chunk) {
        stream.hash.add(sample);
        stream.count += 1;
      }
    }
    this.#streams.set(unit, stream);
  }

  /** One transaction of all that waits. What it failed to write waits for the next. */
  #write(): void {
    if (this.#pending.length === 0) return;
    const ordinals = new Map<Stream, number>();
    // Anew each time: a statement that failed once cannot be used again.
    const insert = this.#db.prepare(INSERT);
    try {
      this.#db.exec('BEGIN IMMEDIATE');
      for (const { stream, sample } of this.#pending) {
        const ordinal = (ordinals.get(stream) ?? stream.count) + 1;
        ordinals.set(stream, ordinal);
        insert.run([
          stream.id,
          ordinal,
          this.#channels.idOf.get(sample.channel) ?? null,
          sample.t,
          sample.value,
          sample.value === null ? sample.why : null,
          sample.seq ?? null,
          sample.deviceTime_s ?? null,
        ]);
      }
      this.#db.exec('COMMIT');
    } catch (error) {
      if (this.#db.inTransaction) this.#db.exec('ROLLBACK');
      throw error;
    } finally {
      insert.finalize();
    }
    for (const { stream, sample } of this.#pending) {
      stream.hash.add(sample);
      stream.count += 1;
    }
    this.#pending.length = 0;
  }
}
