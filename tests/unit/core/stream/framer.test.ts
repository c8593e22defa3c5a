import { describe, expect, it } from 'vitest';
import { channelIndex } from '../../../../core/stream/channel-index.ts';
import { createFramer } from '../../../../core/stream/framer.ts';
import type { Sample } from '../../../../core/stream/sample.ts';

const SP = channelIndex('suctionPressure');
const ST = channelIndex('suctionLineTemp');

function frames(samples: readonly Sample[]) {
  const out: { t: number; dt: number; p: number; temp: number; news: boolean }[] = [];
  const framer = createFramer({
    paced: ['suctionPressure', 'suctionLineTemp'],
    correct: (_, value) => value,
    onFrame: (t, dt, c, spoke) =>
      out.push({ t, dt, p: c[SP]!, temp: c[ST]!, news: spoke[ST] === 1 }),
  });
  samples.forEach((sample) => framer.push(sample));
  framer.finish();
  return { out, counts: framer.counts };
}

const p = (t: number, value = 9e5): Sample => ({ channel: 'suctionPressure', t, value });
const temp = (t: number, value = 280): Sample => ({ channel: 'suctionLineTemp', t, value });

describe('createFramer', () => {
  it('makes one frame a second of fast channels', () => {
    const samples = Array.from({ length: 40 }, (_, i) => [p(i / 4), temp(i / 4)]).flat();
    const { out } = frames(samples);
    expect(out.length).toBe(10);
    expect(out.every((f) => f.dt === 1)).toBe(true);
  });

  it('waits for the slow channel, so that no frame holds a value of the last one', () => {
    const samples: Sample[] = [];
    for (let t = 0; t < 60; t += 1) {
      samples.push(p(t));
      if (t % 5 === 0) samples.push(temp(t, 280 + t));
    }
    const { out } = frames(samples);
    const temps = out.slice(0, -1).map((f) => f.temp); // the last one is what `finish` found open
    expect(temps.length).toBe(12);
    expect(new Set(temps).size).toBe(temps.length);
  });

  it('does not wait for a channel that is known to be slower than it would wait', () => {
    const samples: Sample[] = [];
    for (let t = 0; t < 90; t += 1) {
      samples.push(p(t));
      if (t % 15 === 0) samples.push(temp(t, 280 + t));
    }
    const { out } = frames(samples);
    const late = out.filter((f) => f.t > 17 && f.t <= 89);
    expect(late.every((f) => f.dt === 1)).toBe(true);
    const news = late.filter((f) => f.news);
    expect(news.map((f) => f.t)).toEqual([31, 46, 61, 76]);
    expect(news.map((f) => f.temp)).toEqual([310, 325, 340, 355]);
  });

  it('gives NaN once a channel is stale, and frames go on at the pace of the others', () => {
    const samples: Sample[] = [temp(0)];
    for (let t = 0; t < 60; t += 1) samples.push(p(t));
    const { out } = frames(samples);
    expect(out.at(-1)!.temp).toBeNaN();
    expect(out.at(-1)!.dt).toBe(1);
  });

  it('lets time pass by gaps alone: blank frames come when nothing is live', () => {
    const samples: Sample[] = [p(0), temp(0)];
    for (let t = 1; t < 60; t += 1) {
      samples.push({ channel: 'suctionPressure', t, value: null, why: 'lost' });
      samples.push({ channel: 'suctionLineTemp', t, value: null, why: 'lost' });
    }
    const { out } = frames(samples);
    expect(out.filter((f) => Number.isNaN(f.p)).length).toBeGreaterThan(8);
  });

  it('counts what it leaves out: repeated, implausible, late', () => {
    const { counts, out } = frames([
      p(0),
      p(0),
      temp(0),
      temp(0.5, 1000),
      p(5),
      temp(5),
      p(1, 8e5),
    ]);
    expect(counts).toMatchObject({ samples: 7, repeated: 1, implausible: 1, late: 1, gaps: 0 });
    expect(out.every((f) => f.p === 9e5)).toBe(true);
  });

  it('lets a channel go stale whose values are always too late, rather than hold its last one', () => {
    const samples: Sample[] = [];
    for (let t = 0; t < 60; t += 1) samples.push(p(t), temp(t < 10 ? t : t - 4, 280 + t));
    const { out, counts } = frames(samples);
    expect(counts.late).toBe(50);
    expect(out.filter((f) => f.t > 30).every((f) => Number.isNaN(f.temp))).toBe(true);
  });

  it('takes the value with which a lost channel comes back, though it is the one it had', () => {
    const { counts, out } = frames([
      p(0),
      temp(0),
      { channel: 'suctionLineTemp', t: 1, value: null, why: 'lost' },
      temp(1),
      p(1),
      p(3),
      temp(3),
    ]);
    expect(counts.repeated).toBe(0);
    expect(out.every((f) => f.temp === 280)).toBe(true);
  });

  it('knows a repeated packet by its sequence number', () => {
    const { counts } = frames([
      { ...p(0), seq: 7 },
      { ...p(0.3), seq: 7 },
      { ...p(0.5), seq: 8 },
    ]);
    expect(counts.repeated).toBe(1);
  });
});
