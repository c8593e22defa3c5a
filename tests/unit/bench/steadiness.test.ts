import { describe, expect, it } from 'vitest';
import { halfWidth } from '../../../core/circuit/accuracy.ts';
import { analyticSession } from '../../bench/steadiness/analytic.ts';
import { createDice } from '../../bench/steadiness/dice.ts';
import { seedsOf } from '../../bench/steadiness/families.ts';
import { withErrors } from '../../bench/steadiness/instruments.ts';
import { FAMILIES, QUANTITIES, type Truth } from '../../bench/steadiness/session.ts';
import { longestStretch, swingPeriod } from '../../bench/steadiness/swing-truth.ts';
import { episodesOf, TrueMeans } from '../../bench/steadiness/truth.ts';

/** The bench judges the detector; here the bench is held to what can be worked out by hand. */
const series = (length: number, y: (t: number) => number): Float64Array =>
  Float64Array.from({ length: length + 1 }, (_, t) => y(t));

describe('halves', () => {
  it('share no seed', () => {
    for (const family of FAMILIES) {
      const tuning = new Set(seedsOf(family, 0, 1));
      const verdict = seedsOf(family, 1, 1);
      expect(new Set(verdict).size).toBe(verdict.length);
      expect(verdict.some((seed) => tuning.has(seed))).toBe(false);
      expect(verdict.every((seed) => seed % 2 === 1)).toBe(true);
    }
  });
});

describe('true settling', () => {
  it('of a decay comes when what is left within five minutes is the tolerance', () => {
    const tau = 200;
    const length = 2400;
    const truth: Truth = {
      length,
      series: QUANTITIES.map((_, q) =>
        series(length, (t) => (q === 2 ? 20 * Math.exp(-t / tau) : 0)),
      ),
      runs: [{ from: 0, to: length }],
      events: [],
      period: 0,
    };
    const [episode] = episodesOf(truth, new TrueMeans(truth));
    // Mean of the past minute less mean of the coming five, of A exp(-t / tau), by integration.
    const past = (tau / 60) * (Math.exp(60 / tau) - 1);
    const ahead = (tau / 300) * (1 - Math.exp(-300 / tau));
    const expected = tau * Math.log((20 * (past - ahead)) / (5 / 9));
    expect(Math.abs((episode?.settled ?? 0) - expected)).toBeLessThan(3);
  });
});

describe('swing of the truth', () => {
  it('has its period', () => {
    expect(swingPeriod(series(1500, (t) => Math.sin((2 * Math.PI * t) / 73)))).toBeCloseTo(73, 0);
  });

  it('is none where it is small or dies away', () => {
    const turn = (t: number): number => Math.sin((2 * Math.PI * t) / 73);
    expect(swingPeriod(series(1500, (t) => 0.1 * turn(t)))).toBe(0);
    expect(swingPeriod(series(1500, (t) => 5 * Math.exp(-t / 200) * turn(t)))).toBe(0);
  });

  it('is seldom seen in gusts, which do not keep time', () => {
    let named = 0;
    for (let seed = 0; seed < 100; seed += 1) {
      const dice = createDice(seed);
      let gust = 0;
      let felt = 0;
      const superheat = series(1500, () => {
        gust += -gust / 30 + 0.5 * Math.sqrt(2 / 30) * dice.normal();
        felt += (gust - felt) / 20;
        return felt;
      });
      if (swingPeriod(superheat) > 0) named += 1;
    }
    expect(named).toBeLessThan(15);
  });

  it('is looked for in the longest stretch without an event', () => {
    const runs = [
      { from: 30, to: 400 },
      { from: 500, to: 2000 },
    ];
    expect(longestStretch(runs, [{ at: 700 }])).toEqual({ from: 700, to: 2000 });
  });
});

describe('instruments', () => {
  it('take their errors out again as they were laid on', () => {
    const { errors } = withErrors(analyticSession(3, 600));
    for (const value of [2e5, 9e5, 3e6]) {
      const shown = errors.lay('liquidPressure', value);
      expect(shown).not.toBe(value);
      expect(errors.undo('liquidPressure', shown)).toBeCloseTo(value, 3);
    }
    expect(errors.undo('suctionLineTemp', errors.lay('suctionLineTemp', 285))).toBeCloseTo(285, 9);
  });

  it('err within the limits they state, by the law they are drawn from', () => {
    const channel = 'suctionLineTemp';
    const errors = { normal: [] as number[], even: [] as number[] };
    const one = analyticSession(3, 600);
    for (let seed = 0; seed < 60; seed += 1) {
      const { config, further } = withErrors({ ...one, seed, samples: [] });
      const half = halfWidth(config.accuracy[channel] ?? { absolute: 1 }, 285, 0);
      for (const law of ['normal', 'even'] as const) {
        for (const set of further[law]) errors[law].push((set.lay(channel, 285) - 285) / half);
      }
    }
    const inside = (values: number[]): number =>
      values.filter((v) => Math.abs(v) <= 1).length / values.length;
    expect(inside(errors.even)).toBe(1);
    expect(inside(errors.normal)).toBeGreaterThan(0.93);
    expect(inside(errors.normal)).toBeLessThan(0.97);
    const spread = Math.sqrt(errors.even.reduce((a, e) => a + e * e, 0) / errors.even.length);
    expect(spread).toBeCloseTo(1 / Math.sqrt(3), 1);
  });
});
