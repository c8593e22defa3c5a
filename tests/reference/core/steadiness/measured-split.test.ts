import { describe, expect, it } from 'vitest';
import { moistAir } from '../../../../core/circuit/psychrometrics.ts';
import { TARGET_SPLIT_RA32 } from '../../../../core/diagnosis/data/target-split-ra32.ts';
import { lookUp } from '../../../../core/diagnosis/table.ts';
import { pascal } from '../../../../core/units/brands.ts';
import { fahrenheitFromKelvin, kelvinFromFahrenheit } from '../../../../core/units/temperature.ts';
import { COMPANION, drop, mean, running, type Minute } from './measured.ts';

/**
 * The table of target temperature splits (RA3.2-3, recalled) against what a real two-stage heat
 * pump without set faults measured at rest (source beside the rows). The table holds for 400 cfm a
 * ton; here the low stage moves 630 to 670 scfm, the high one 1,090. A difference is expected; this
 * records how large it is.
 */

/** Barometer of the laboratory: 29.2 to 29.7 inHg over these rows. */
const ATMOSPHERE = pascal(29.4 * 3386.39);
/** Minutes in one stage after which the air counts as at rest. */
const REST_MIN = 10;

/** Saturation pressure of water, hPa, from °F (Magnus form, Alduchov and Eskridge 1996). */
function saturation(degF: number): number {
  const t = (degF - 32) / 1.8;
  return 6.1094 * Math.exp((17.625 * t) / (243.04 + t));
}

function wetBulb(m: Minute): number {
  const relativeHumidity = saturation(m.returnDewPoint) / saturation(m.returned);
  const air = moistAir(kelvinFromFahrenheit(m.returned), { relativeHumidity }, ATMOSPHERE);
  if (!air.ok) throw new Error(JSON.stringify(air.error));
  return fahrenheitFromKelvin(air.value.wetBulb);
}

/** Measured split minus the table's, °F. */
function difference(m: Minute): number {
  const target = lookUp(TARGET_SPLIT_RA32, m.returned, wetBulb(m));
  if (!target.ok) throw new Error(JSON.stringify(target.error));
  return drop(m) - target.value.value;
}

/** Running minutes of the low stage that are at rest. */
function atRest(run: string): Minute[] {
  const minutes = running(run);
  return minutes.filter(
    (m, i) =>
      m.stage === 1 &&
      i >= REST_MIN &&
      minutes.slice(i - REST_MIN, i).every((before) => before.stage === 1),
  );
}

const RUNS = COMPANION.runs.map((r) => r.run);

describe('the table of temperature splits beside a measured unit', () => {
  it('has an entry for every measured state at rest', () => {
    const minutes = RUNS.flatMap(atRest);
    expect(minutes.length).toBeGreaterThanOrEqual(150);
    for (const m of minutes) {
      expect(wetBulb(m)).toBeGreaterThan(m.returnDewPoint);
      expect(wetBulb(m)).toBeLessThan(m.returned);
      expect(Number.isFinite(difference(m))).toBe(true);
    }
  });

  // Two sensors of 0.8 °F and a dew point of 0.7 °F leave the difference uncertain by 1.3 °F. The
  // means of the runs are 2.1 to 4.8 °F above the table: eight of ten outside its ± 3 °F.
  it('asks for less than was measured, by 2 to 5 °F in the mean of each run', () => {
    for (const run of RUNS) {
      const off = mean(atRest(run).map(difference));
      expect(off, run).toBeGreaterThan(2 - 1.3);
      expect(off, run).toBeLessThan(5 + 1.3);
    }
    const overall = mean(RUNS.map((run) => mean(atRest(run).map(difference))));
    expect(overall).toBeGreaterThan(2.5);
    expect(overall).toBeLessThan(5);
  });

  // From damp (wet bulb 66 °F, 84 °F outside) to dry return air (62 °F, 92 °F outside) the table's
  // split grows by 1.4 °F, the measured one by 0.3 °F: alike within what two states leave uncertain.
  it('changes as the measured split does from damp to dry return air, within the uncertainty', () => {
    const dry = running('tucson-4').filter((m) => m.returnDewPoint < 53);
    const damp = running('tucson-1').slice(REST_MIN);
    const measured = mean(dry.map(drop)) - mean(damp.map(drop));
    const tabled = measured - (mean(dry.map(difference)) - mean(damp.map(difference)));
    expect(mean(damp.map(wetBulb)) - mean(dry.map(wetBulb))).toBeGreaterThan(3);
    expect(measured).toBeGreaterThan(0);
    expect(Math.abs(measured - tabled)).toBeLessThan(1.3 * Math.SQRT2);
  });
});
