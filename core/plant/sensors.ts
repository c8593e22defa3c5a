import { channelRow, type ChannelKey } from '../stream/channels.ts';
import type { Sample } from '../stream/sample.ts';
import { Random } from './random.ts';
import type { SensorSpec } from './scenario.ts';

/** A sample on its way to the receiver: it arrives at `at`. */
export interface Delivery {
  readonly at: number;
  readonly sample: Sample;
}

/**
 * One instrument: samples a true value at its own rate, behind the lag of its probe, with its bias,
 * noise and display step; loses, delays, repeats and sticks as the scenario says. What it reads is passed
 * on as it is, but for a current: a clamp meter of alternating current shows none below nought.
 */
export class Sensor {
  readonly channel: ChannelKey;
  private readonly spec: SensorSpec;
  private readonly random: Random;
  private readonly keep: number;
  private readonly phase: number;
  private readonly least: number | null;
  private state: number | null = null;
  private count = 0;
  private lostUntil = -1;
  private last: number | null = null;
  private fallen: number | null = null;

  constructor(spec: SensorSpec, index: number, unit: string, seed: number, dt: number) {
    this.channel = spec.channel;
    this.spec = spec;
    this.random = Random.named(seed, `sensor ${unit} ${spec.channel} ${index}`);
    this.least = channelRow(this.channel).quantity === 'current' ? 0 : null;
    this.keep = spec.lag_s > 0 ? Math.exp(-dt / spec.lag_s) : 0;
    // Instruments are not in step with one another.
    this.phase = Math.floor(this.random.uniform() / spec.rate_Hz / dt) * dt;
  }

  /** Follows the true value through the probe; `around` is the air a fallen clamp would read. */
  follow(value: number, around: number, t: number, dt: number): void {
    const off = this.spec.fallsOffAt_s !== undefined && t >= this.spec.fallsOffAt_s;
    const aim = off ? around : value;
    if (off && this.fallen === null) this.fallen = Math.exp(-dt / 25);
    const keep = this.fallen ?? this.keep;
    this.state = this.state === null ? aim : aim + (this.state - aim) * keep;
  }

  /** Takes the sample that is due at t, if one is, into `out`. */
  take(t: number, out: (delivery: Delivery) => void): void {
    const due = this.phase + this.count / this.spec.rate_Hz;
    if (this.state === null || t + 1e-9 < due) return;
    const seq = this.count;
    this.count += 1;
    const s = this.spec;
    const r = this.random;
    // The same number of dice for every sample, whatever becomes of it.
    const noise = s.noise > 0 ? s.noise * r.normal() : 0;
    const loss = s.dropout.chance > 0 ? r.uniform() : 1;
    const lossLength = s.dropout.chance > 0 ? r.exponential(s.dropout.mean_s) : 0;
    const late = s.late.chance > 0 ? r.uniform() : 1;
    const lateness = s.late.chance > 0 ? r.exponential(s.late.mean_s) : 0;
    const twice = s.repeated > 0 ? r.uniform() : 1;
    const sticks = s.stuck > 0 ? r.uniform() : 1;
    let value = this.state + s.bias + noise;
    if (this.least !== null) value = Math.max(value, this.least);
    if (s.quantum > 0) value = Math.round(value / s.quantum) * s.quantum;
    if (sticks < s.stuck && this.last !== null) value = this.last;
    this.last = value;
    if (due < this.lostUntil) return;
    if (loss < s.dropout.chance) {
      this.lostUntil = due + lossLength;
      return;
    }
    const sample: Sample = { channel: this.channel, t: due, seq, value };
    const at = late < s.late.chance ? due + lateness : due;
    out({ at, sample });
    if (twice < s.repeated) out({ at: at + 0.05, sample });
  }
}

/**
 * What is under way to the receiver, handed over in order of arrival. Samples of equal arrival keep
 * the order in which they were made, so the stream does not depend on how time is sliced.
 */
export class Air {
  private readonly waiting: Delivery[] = [];

  readonly add = (delivery: Delivery): void => {
    const list = this.waiting;
    let i = list.length;
    while (i > 0 && (list[i - 1]?.at ?? 0) > delivery.at) i -= 1;
    if (i === list.length) list.push(delivery);
    else list.splice(i, 0, delivery);
  };

  /** Everything that has arrived by time t. */
  arrived(t: number): Sample[] {
    const list = this.waiting;
    let n = 0;
    while (n < list.length && (list[n]?.at ?? Infinity) <= t + 1e-9) n += 1;
    return list.splice(0, n).map((d) => d.sample);
  }
}
