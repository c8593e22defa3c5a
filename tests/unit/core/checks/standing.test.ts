import { describe, expect, it } from 'vitest';
import { createStandingWatch } from '../../../../core/checks/standing-watch.ts';
import { standing, type StandingInput } from '../../../../core/checks/standing.ts';
import { standingText } from '../../../../core/diagnosis/standing-text.ts';
import { pascalFromPsig } from '../../../../core/units/pressure.ts';
import { kelvinFromFahrenheit } from '../../../../core/units/temperature.ts';

const psig = (x: number, u = 1.5) => ({
  value: pascalFromPsig(x),
  u: u * 6894.757,
});
const degF = (x: number) => ({ value: kelvinFromFahrenheit(x), u: 0.5 });
const still = { value: 0, u: 1 };

function input(low: number, high: number, more: Partial<StandingInput> = {}): StandingInput {
  return {
    refrigerant: 'R-410A',
    running: false,
    low: psig(low),
    high: psig(high),
    lowRate: still,
    highRate: still,
    surroundings: [degF(70), degF(80)],
    offFor: 3600,
    ...more,
  };
}
function must(i: StandingInput) {
  const found = standing(i);
  if (!found.ok) throw new Error(found.error.code);
  return found.value;
}

// Saturation of R-410A by CoolProp 8: 201 psig at 70 °F, 236 psig at 80 °F.
describe('standing check', () => {
  it('agrees between saturation at the coldest and at the warmest place', () => {
    expect(must(input(218, 219)).verdict).toBe('agrees');
    expect(must(input(201, 201)).verdict).toBe('agrees');
    expect(must(input(236, 236)).verdict).toBe('agrees');
  });

  it('finds little or no liquid below, another gas above, and leaves the edge undecided', () => {
    const low = must(input(150, 150));
    expect(low.verdict).toBe('below');
    expect(low.probability?.below).toBeGreaterThan(0.97);
    expect(must(input(275, 275)).verdict).toBe('above');
    expect(must(input(248, 248)).verdict).toBe('undecided');
  });

  it('waits until the pressures are equal, and tells how long', () => {
    const rate = (x: number) => ({ value: x * 6894.757, u: 1 });
    const moving = must(
      input(150, 290, { lowRate: rate(0.05), highRate: rate(-0.15), offFor: 60 }),
    );
    expect(moving.verdict).toBeNull();
    expect(moving.equalising.state).toBe('equalising');
    expect(moving.equalising.timeLeft).toBeCloseTo(140 / 0.2, 0);
  });

  it('names pressures that stay apart, and waits while equal ones still drift together', () => {
    expect(must(input(150, 290)).equalising.state).toBe('stuckApart');
    const drifting = { value: 300, u: 10 };
    const together = must(input(218, 218, { lowRate: drifting, highRate: drifting }));
    expect(together.equalising.state).toBe('equal');
    expect(together.verdict).toBeNull();
    expect(together.wait).toEqual({ code: 'drifting', rate: 300 });
    // 300 Pa/s is 26.1 psi in 10 minutes.
    expect(standingText(together, 101_325, 'us').join(' ')).toContain(
      'still rising by 26.1 psi in 10 minutes',
    );
  });

  it('says that it was watched for too short a time, and waits for nothing with a verdict', () => {
    const early = must(input(218, 218, { highRate: null }));
    expect(early.wait).toEqual({ code: 'tooShort' });
    expect(standingText(early, 101_325, 'us').join(' ')).toContain('too short a time');
    expect(must(input(150, 290)).wait).toEqual({ code: 'notEqual' });
    expect(must(input(218, 219)).wait).toBeNull();
  });

  it('knows a suction side above the high side for exchanged hoses, and not for gauges that disagree', () => {
    for (const offFor of [60, 3600]) {
      expect(must(input(424, 124, { offFor })).equalising.state).toBe('reversed');
    }
    expect(must(input(224, 219)).equalising.state).not.toBe('reversed');
  });

  it('tells no difference of one gauge', () => {
    const one = must({ ...input(218, 218), high: null, highRate: null });
    expect(one.equalising).toMatchObject({ state: 'equal', difference: null });
    expect(one.verdict).toBe('agrees');
  });

  it('uses dew and bubble of a blend with glide: between the two is agreement', () => {
    // R-407C at 70 °F by CoolProp 8: dew 117.3, bubble 140.5 psig.
    const blend = { refrigerant: 'R-407C', surroundings: [degF(70)] } as const;
    expect(must(input(118, 118, blend)).verdict).toBe('agrees');
    expect(must(input(140, 140, blend)).verdict).toBe('agrees');
    expect(must(input(105, 105, blend)).verdict).toBe('below');
  });

  it('refuses while running, without a gauge, without a thermometer', () => {
    expect(standing(input(1, 1, { running: true }))).toMatchObject({
      error: { code: 'STILL_RUNNING' },
    });
    expect(standing(input(1, 1, { low: null, high: null }))).toMatchObject({
      error: { code: 'NO_PRESSURE' },
    });
    expect(standing(input(1, 1, { surroundings: [] }))).toMatchObject({
      error: { code: 'NO_SURROUNDINGS' },
    });
  });
});

describe('standing watch', () => {
  it('tells the rate of a falling pressure with its half-width, and zero at rest', () => {
    const watch = createStandingWatch();
    expect(watch.read()).toBeNull();
    for (let t = 0; t <= 240; t += 1) watch.push(t, 2e6 - 500 * t + 300 * Math.sin(t));
    const read = watch.read();
    expect(read?.rate?.value).toBeGreaterThan(-502);
    expect(read?.rate?.value).toBeLessThan(-498);
    watch.reset();
    for (let t = 0; t <= 60; t += 1) watch.push(t, 1e6);
    expect(watch.read()).toEqual({ mean: 1e6, rate: null });
  });
});
