import { BIN_S, createBinner, type Binner, type ClosedBin } from './binner.ts';
import { createChannelClock, type ChannelClock } from './channel-clock.ts';
import { channelIndex } from './channel-index.ts';
import { CHANNEL_KEYS, channelRow, type ChannelKey } from './channels.ts';
import type { GapReason, Sample } from './sample.ts';

/**
 * A frame waits this long for a slow channel, then goes with the value that is held. For one that
 * is known to be slower it does not wait: the others would be read more coarsely for nothing.
 */
const MAX_FRAME_S = 6;
/** Without any live channel a blank frame comes this often, as time is known to pass. */
const BLANK_FRAME_S = 5;

/** Counts of what did not fit. */
export interface FramerCounts {
  samples: number;
  gaps: number;
  late: number;
  repeated: number;
  implausible: number;
}

export interface Framer {
  push(sample: Sample): void;
  finish(): void;
  readonly counts: Readonly<FramerCounts>;
  clock(channel: ChannelKey): ChannelClock;
}

/** How a framer is set up. */
interface FramerOptions {
  /** The channels a frame waits for, as long as they are live. */
  readonly paced: readonly ChannelKey[];
  /** Value in SI -> corrected value (offset, atmosphere). */
  readonly correct: (channel: ChannelKey, value: number) => number;
  /**
   * Gets the end and length of the frame (s), the channel columns, and for each channel whether it
   * spoke in this frame (1) or is held (0). The arrays are reused.
   */
  readonly onFrame: (t: number, dt: number, channels: Float64Array, spoke: Uint8Array) => void;
}

/**
 * Turns samples into frames: the mean of each channel over a second, or, where a needed channel
 * comes more slowly (up to 6 s), over the time in which each of them has spoken once. A value is held
 * for a channel that has not spoken in a frame until it is stale, then it is NaN.
 */
export function createFramer(options: FramerOptions): Framer {
  return new SampleFramer(options);
}

class SampleFramer implements Framer {
  readonly counts: FramerCounts = { samples: 0, gaps: 0, late: 0, repeated: 0, implausible: 0 };
  readonly #options: FramerOptions;
  readonly #binner: Binner = createBinner(CHANNEL_KEYS.length, (bin) => this.#onBin(bin));
  readonly #clocks = CHANNEL_KEYS.map((key) => createChannelClock(channelRow(key).period_s));
  readonly #paced: readonly number[];
  readonly #sums = new Float64Array(CHANNEL_KEYS.length);
  readonly #numbers = new Int32Array(CHANNEL_KEYS.length);
  readonly #spoke = new Uint8Array(CHANNEL_KEYS.length);
  readonly #held = new Float64Array(CHANNEL_KEYS.length).fill(NaN);
  readonly #lastSeq = new Map<number, number>();
  #frameStart: number | null = null;
  #lastBin = -Infinity;

  constructor(options: FramerOptions) {
    this.#options = options;
    this.#paced = options.paced.map(channelIndex);
  }

  push(sample: Sample): void {
    const i = channelIndex(sample.channel);
    this.counts.samples += 1;
    if (sample.value === null) {
      this.counts.gaps += 1;
      this.#gap(i, sample.t, sample.why);
      return;
    }
    const value = this.#options.correct(sample.channel, sample.value);
    if (this.#isRepeated(i, sample.t, value, sample.seq)) {
      this.counts.repeated += 1;
      return;
    }
    const row = channelRow(sample.channel);
    if (!(value >= row.min && value <= row.max)) {
      this.counts.implausible += 1;
      this.#gap(i, sample.t, 'implausible');
      return;
    }
    // The frames never see a late value, so it keeps no channel alive: one that is always late must
    // become stale, and not stand still at its last value in time.
    if (this.#binner.isLate(sample.t)) {
      this.counts.late += 1;
      return;
    }
    // Once its period is known, or it was told that nothing came, time passes before the value is
    // noted: the frames of a silence that this value ends must not know of it.
    const clock = this.#clock(i);
    if (clock.awaited()) this.#binner.advance(sample.t);
    clock.value(sample.t, value);
    this.#binner.add(i, sample.t, value);
  }

  finish(): void {
    this.#binner.finish();
    const pending = this.#numbers.some((n) => n > 0);
    if (pending && this.#frameStart !== null) this.#emit(this.#lastBin, this.#frameStart);
  }

  clock(channel: ChannelKey): ChannelClock {
    return this.#clock(channelIndex(channel));
  }

  #clock(i: number): ChannelClock {
    const clock = this.#clocks[i];
    if (clock === undefined) throw new Error(`no channel ${i}`);
    return clock;
  }

  #gap(i: number, t: number, why: GapReason): void {
    this.#clock(i).gap(t, why);
    this.#binner.advance(t);
  }

  #isRepeated(i: number, t: number, value: number, seq: number | undefined): boolean {
    if (seq !== undefined) {
      const again = this.#lastSeq.get(i) === seq;
      this.#lastSeq.set(i, seq);
      return again;
    }
    return this.#clock(i).repeats(t, value);
  }

  #onBin(bin: ClosedBin): void {
    this.#lastBin = bin.t;
    const start = (this.#frameStart ??= bin.t - BIN_S);
    if (bin.filled) {
      for (let i = 0; i < this.#sums.length; i += 1) {
        this.#sums[i] = (this.#sums[i] ?? 0) + (bin.sums[i] ?? 0);
        this.#numbers[i] = (this.#numbers[i] ?? 0) + (bin.counts[i] ?? 0);
      }
    }
    if (this.#isDue(bin.t, bin.t - start)) this.#emit(bin.t, start);
  }

  #isDue(t: number, age: number): boolean {
    let live = false;
    let waiting = false;
    let spoken = false;
    let silent = false;
    for (const i of this.#paced) {
      const has = (this.#numbers[i] ?? 0) > 0;
      spoken ||= has;
      if (has) live = true;
      else if (this.#clock(i).stale(t)) silent = true;
      else {
        live = true;
        waiting ||= !((this.#clock(i).last().period ?? 0) > MAX_FRAME_S);
      }
    }
    if (!spoken) return (!live || silent) && age >= BLANK_FRAME_S;
    return !waiting || age >= MAX_FRAME_S;
  }

  #emit(t: number, start: number): void {
    for (let i = 0; i < this.#held.length; i += 1) {
      const n = this.#numbers[i] ?? 0;
      this.#spoke[i] = n > 0 ? 1 : 0;
      if (n > 0) this.#held[i] = (this.#sums[i] ?? 0) / n;
      else if (this.#clock(i).stale(t)) this.#held[i] = NaN;
    }
    this.#sums.fill(0);
    this.#numbers.fill(0);
    this.#frameStart = t;
    this.#options.onFrame(t, t - start, this.#held, this.#spoke);
  }
}
