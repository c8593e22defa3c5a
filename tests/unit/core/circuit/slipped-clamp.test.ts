import { describe, expect, it } from 'vitest';
import { COLUMN_COUNT, figureColumn } from '../../../../core/circuit/content.ts';
import { createClampWatch } from '../../../../core/circuit/slipped-clamp.ts';
import { channelIndex } from '../../../../core/stream/channel-index.ts';

interface Moment {
  readonly liquidLine: number;
  readonly suctionLine?: number;
  readonly condensing?: number;
  readonly evaporating?: number;
  readonly running?: boolean | null;
}

/** Plays a course of one frame a second; degrees are K. */
function play(seconds: number, at: (t: number) => Moment, dt = 1) {
  const watch = createClampWatch();
  for (let t = dt; t <= seconds; t += dt) {
    const m = at(t);
    const columns = new Float64Array(COLUMN_COUNT).fill(NaN);
    columns[channelIndex('liquidLineTemp')] = m.liquidLine;
    columns[channelIndex('suctionLineTemp')] = m.suctionLine ?? NaN;
    columns[figureColumn('liquidSaturation')] = m.condensing ?? 318;
    columns[figureColumn('suctionSaturation')] = m.evaporating ?? 280;
    watch.push(t, columns, m.running ?? true);
  }
  return watch.moved();
}

/** A clamp that comes off at 900 s and cools towards the air with a lag of 20 s. */
const off = (t: number, back = Infinity): number => {
  const gone = t < 900 ? 0 : t < back ? 1 - Math.exp(-(t - 900) / 20) : Math.exp(-(t - back) / 20);
  return 311 - 7 * gone;
};

describe('a clamp that moves alone', () => {
  for (const dt of [0.25, 1, 5]) {
    it(`is noticed with its size and time, a frame each ${dt} s`, () => {
      const [step, ...more] = play(1200, (t) => ({ liquidLine: off(t) }), dt);
      expect(more).toEqual([]);
      expect(step?.channel).toBe('liquidLineTemp');
      expect(step?.by).toBeGreaterThan(-7.1);
      expect(step?.by).toBeLessThan(-6.3);
      expect(Math.abs((step?.at ?? 0) - 900)).toBeLessThanOrEqual(30);
    });
  }

  it('is forgotten when it is put back, or when the unit stops', () => {
    expect(play(2000, (t) => ({ liquidLine: off(t, 1400) }))).toEqual([]);
    const stopped = (t: number): Moment => ({ liquidLine: off(t), running: t < 1300 });
    expect(play(1400, stopped)).toEqual([]);
    expect(play(1250, stopped)).toHaveLength(1);
  });

  /** A suction clamp that moves by so much between two times, with a lag of 20 s. */
  const suction = (t: number, by: number, from = 900, to = Infinity): number => {
    const gone = t < from ? 0 : t < to ? 1 - Math.exp(-(t - from) / 20) : Math.exp(-(t - to) / 20);
    return 288 + by * gone;
  };

  it('is forgotten when it is put back within two minutes, before it has come to rest', () => {
    const gone = (t: number): Moment => ({
      liquidLine: 311,
      suctionLine: suction(t, 20, 900, 1040),
    });
    expect(play(1030, gone)).toHaveLength(1);
    expect(play(1300, gone)).toEqual([]);
    // Even where the circuit has moved on meanwhile: what it reads over its saturation counts.
    const later = (t: number): Moment => ({
      liquidLine: 311,
      suctionLine: suction(t, 20, 900, 1040) + (t > 1000 ? (t - 1000) / 100 : 0),
      evaporating: 280 + (t > 1000 ? (t - 1000) / 100 : 0),
    });
    expect(play(2000, later)).toEqual([]);
  });

  it('goes towards the air about it: the other way it was put on, or it was no clamp', () => {
    const course = (by: number) => (t: number) => ({
      liquidLine: 311,
      suctionLine: suction(t, by),
    });
    expect(play(1200, course(12))).toMatchObject([{ channel: 'suctionLineTemp' }]);
    expect(play(1200, course(-12))).toEqual([]);
    expect(play(1200, (t) => ({ liquidLine: 622 - off(t) }))).toEqual([]);
  });

  it('slips after it was put on, and is noticed all the same', () => {
    const both = (t: number): Moment => ({
      liquidLine: 311,
      suctionLine: suction(t, -15, 900) + suction(t, 15, 1500) - 288,
    });
    expect(play(1400, both)).toEqual([]);
    const [step] = play(1900, both);
    expect(step?.by).toBeGreaterThan(13);
    expect(Math.abs((step?.at ?? 0) - 1500)).toBeLessThanOrEqual(30);
  });

  it('is no clamp where the pressures move too', () => {
    const fan = (t: number): Moment => ({ liquidLine: off(t), condensing: off(t) + 7 });
    expect(play(1200, fan)).toEqual([]);
    const bothLines = (t: number): Moment => ({ liquidLine: off(t), suctionLine: off(t) - 20 });
    expect(play(1200, bothLines)).toEqual([]);
  });

  it('is no clamp where refrigerant was added, though the liquid line comes last and falls alone', () => {
    // Through the suction side: its pressure jumps while it goes in, its line cools, then the liquid backs up.
    const added = (t: number): Moment => ({
      liquidLine: off(t),
      suctionLine: 287 - (t < 830 ? 0 : 2.4 * (1 - Math.exp(-(t - 830) / 12))),
      evaporating: 280 + (t > 820 && t < 880 ? 1.6 : 0),
    });
    expect(play(1200, added)).toEqual([]);
    const suctionOnly = (t: number): Moment => ({ ...added(t), suctionLine: 287 });
    expect(play(1200, suctionOnly)).toEqual([]);
  });

  it('is no clamp while it only drifts, swings, or comes to rest after a start', () => {
    expect(play(2400, (t) => ({ liquidLine: 311 - t / 200 }))).toEqual([]);
    expect(play(2400, (t) => ({ liquidLine: 311 + 4 * Math.sin(t / 15) }))).toEqual([]);
    expect(play(1200, (t) => ({ liquidLine: 303 + 8 * (1 - Math.exp(-t / 90)) }))).toEqual([]);
  });

  it('cannot be told without the pressures', () => {
    expect(play(1200, (t) => ({ liquidLine: off(t), condensing: NaN }))).toEqual([]);
  });

  it('survives a clock that jumps', () => {
    const watch = createClampWatch();
    const columns = new Float64Array(COLUMN_COUNT).fill(300);
    for (const t of [1, 2, 5000, 5001, 40, 41, 1e9]) watch.push(t, columns, true);
    expect(watch.moved()).toEqual([]);
  });
});
