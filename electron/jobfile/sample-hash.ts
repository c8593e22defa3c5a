import { createHash, type Hash } from 'node:crypto';
import type { Sample } from '../../core/stream/sample.ts';

const CHUNK = 1 << 16;
/** Longest form of one sample: two short texts, four numbers, three flags. */
const LONGEST = 256;

const HAS_VALUE = 1;
const HAS_SEQ = 2;
const HAS_DEVICE_TIME = 4;

/** A running SHA-256 over samples in their canonical form. */
export interface SampleHash {
  add(sample: Sample): void;
  /** Hash so far, hex; more can be added after. */
  digest(): string;
}

/**
 * SHA-256 over the canonical form of samples, one after the other: the channel key in ASCII and a
 * zero byte; t as a big-endian double; a byte of flags (1 has a value, 2 has a sequence number,
 * 4 has a device time); the value as a big-endian double, or the reason of the gap in ASCII and a
 * zero byte; then sequence number and device time as big-endian doubles where they are.
 */
export function createSampleHash(): SampleHash {
  const hash: Hash = createHash('sha256');
  const buffer = Buffer.allocUnsafe(CHUNK);
  let length = 0;

  const drain = (): void => {
    hash.update(buffer.subarray(0, length));
    length = 0;
  };
  const text = (value: string): void => {
    length += buffer.write(value, length, 'ascii');
    buffer[length] = 0;
    length += 1;
  };
  const double = (value: number): void => {
    // SQLite keeps no negative zero, and nor do we.
    length = buffer.writeDoubleBE(value === 0 ? 0 : value, length);
  };

  return {
    add(sample) {
      if (length > CHUNK - LONGEST) drain();
      text(sample.channel);
      double(sample.t);
      buffer[length] =
        (sample.value === null ? 0 : HAS_VALUE) |
        (sample.seq === undefined ? 0 : HAS_SEQ) |
        (sample.deviceTime_s === undefined ? 0 : HAS_DEVICE_TIME);
      length += 1;
      if (sample.value === null) text(sample.why);
      else double(sample.value);
      if (sample.seq !== undefined) double(sample.seq);
      if (sample.deviceTime_s !== undefined) double(sample.deviceTime_s);
    },
    digest() {
      drain();
      return hash.copy().digest('hex');
    },
  };
}
