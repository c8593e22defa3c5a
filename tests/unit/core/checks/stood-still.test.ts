import { describe, expect, it } from 'vitest';
import { createStoodStillFinder } from '../../../../core/checks/stood-still.ts';
import { judge } from '../../../../core/checks/running.ts';
import { evidenceText } from '../../../../core/diagnosis/evidence-text.ts';
import { COLUMN_COUNT } from '../../../../core/circuit/content.ts';
import { channelIndex } from '../../../../core/stream/channel-index.ts';
import type { ChannelKey } from '../../../../core/stream/channels.ts';
import type { StoodStill } from '../../../../core/diagnosis/types.ts';
import { pascalFromPsig } from '../../../../core/units/pressure.ts';
import { fahrenheitFromKelvin, kelvinFromFahrenheit } from '../../../../core/units/temperature.ts';
import { kelvin } from '../../../../core/units/brands.ts';
import { configOf, inputOf, probabilityOf } from '../diagnosis/make.ts';

interface Standing {
  readonly low: number;
  readonly high: number;
  readonly outdoor?: number;
  readonly indoor?: number;
}

/** Ten minutes of frames of a unit, psig and °F. */
function told({ low, high, outdoor, indoor }: Standing): StoodStill | null {
  const finder = createStoodStillFinder(configOf({}));
  const columns = new Float64Array(COLUMN_COUNT).fill(NaN);
  const put = (key: ChannelKey, value: number | undefined): void => {
    if (value !== undefined) columns[channelIndex(key)] = value;
  };
  put('suctionPressure', pascalFromPsig(low));
  put('liquidPressure', pascalFromPsig(high));
  put('outdoorAirTemp', outdoor === undefined ? undefined : kelvinFromFahrenheit(outdoor));
  put('returnAirTemp', indoor === undefined ? undefined : kelvinFromFahrenheit(indoor));
  for (let t = 1; t <= 600; t += 1) finder.observe(t, columns);
  return finder.found();
}

// Saturation of R-410A by CoolProp 8: 236 psig at 80 °F.
describe('what a unit tells while it stands still', () => {
  it('finds the standing pressure and the temperature it is saturated at', () => {
    const found = told({ low: 236, high: 236, outdoor: 80, indoor: 79 });
    expect(found?.probability.agrees).toBeGreaterThan(0.9);
    expect(fahrenheitFromKelvin(kelvin(found?.saturated ?? NaN))).toBeCloseTo(80, 0);
  });

  it('finds nothing while the unit runs, and with one air unknown', () => {
    expect(told({ low: 120, high: 360, outdoor: 80, indoor: 79 })).toBeNull();
    expect(told({ low: 236, high: 236, outdoor: 80 })).toBeNull();
  });

  it('keeps what it found when the unit starts', () => {
    const finder = createStoodStillFinder(configOf({}));
    const columns = new Float64Array(COLUMN_COUNT).fill(NaN);
    columns[channelIndex('outdoorAirTemp')] = kelvinFromFahrenheit(80);
    columns[channelIndex('returnAirTemp')] = kelvinFromFahrenheit(79);
    for (let t = 1; t <= 900; t += 1) {
      columns[channelIndex('suctionPressure')] = pascalFromPsig(t < 300 ? 236 : 120);
      columns[channelIndex('liquidPressure')] = pascalFromPsig(t < 300 ? 236 : 360);
      finder.observe(t, columns);
    }
    expect(finder.found()?.probability.agrees).toBeGreaterThan(0.9);
    finder.reset();
    expect(finder.found()).toBeNull();
  });
});

describe('its bearing on the running unit', () => {
  // High head with much subcooling: too much refrigerant and a foreign gas look alike.
  const alike = {
    suction: 122,
    liquid: 440,
    suctionLine: 52,
    liquidLine: 104,
    outdoor: 90,
    return: 75,
    wetBulb: 63,
    supply: 56,
  };
  const nameplate = {
    targetSubcooling_K: 10 / 1.8,
    targetSuperheat_K: null,
    capacity_W: null,
    displacement_m3_s: null,
  };
  const judged = (stood: StoodStill | null) =>
    judge(inputOf(alike, {}, { nameplate, stood })).diagnosis;

  it('raises a foreign gas where it stood above saturation, and lowers it where it agreed', () => {
    const p = (stood: StoodStill | null) =>
      probabilityOf(judged(stood).suspects, 'nonCondensables');
    const above = told({ low: 280, high: 280, outdoor: 80, indoor: 79 });
    const agrees = told({ low: 236, high: 236, outdoor: 80, indoor: 79 });
    expect(above?.probability.above).toBeGreaterThan(0.9);
    expect(p(above)).toBeGreaterThan(2 * p(null));
    expect(p(agrees)).toBeLessThan(0.6 * p(null));
  });

  it('does not ask for what it told, and leaves much open between airs far apart', () => {
    const agrees = told({ low: 236, high: 236, outdoor: 80, indoor: 79 });
    expect(judged(agrees).checks.map((c) => c.check)).not.toContain('standing');
    const apart = told({ low: 236, high: 236, outdoor: 95, indoor: 75 });
    expect(judged(apart).checks.map((c) => c.check)).toContain('standing');
    const p = (stood: StoodStill | null) =>
      probabilityOf(judged(stood).suspects, 'nonCondensables');
    expect(p(apart)).toBeGreaterThan(p(agrees));
  });

  it('says so in words', () => {
    const stood = told({ low: 280, high: 280, outdoor: 80, indoor: 79 });
    if (stood === null) throw new Error('it told nothing');
    const text = evidenceText({ kind: 'stood', stood }, 'cooling', 'us');
    expect(text).toMatch(
      /pressure was that of 9\d\.\d °F saturated, in air of 79\.0 °F to 80\.0 °F: too high/,
    );
  });
});
