import psychrolib from 'psychrolib';
import { describe, expect, it } from 'vitest';
import { moistAir } from '../../../../core/circuit/psychrometrics.ts';
import type { Result } from '../../../../core/result.ts';
import { kelvin } from '../../../../core/units/brands.ts';
import { atmosphereAtAltitude, STANDARD_ATMOSPHERE } from '../../../../core/units/pressure.ts';
import {
  fahrenheitFromKelvin,
  kelvinFromCelsius,
  kelvinFromFahrenheit,
} from '../../../../core/units/temperature.ts';

function must<T>(result: Result<T, unknown>): T {
  if (!result.ok) throw new Error(JSON.stringify(result.error));
  return result.value;
}

describe('moist air', () => {
  // ASHRAE Handbook Fundamentals 2017, chapter 1, example 1 (from memory): 40 °C dry bulb, 20 °C
  // thermodynamic wet bulb, 101.325 kPa, read from the chart: W 6.5 g/kg, h 56.7 kJ/kg,
  // dew point 7 °C, 14 % relative humidity, v 0.896 m3/kg.
  it('meets the worked example of the handbook within what a chart can be read to', () => {
    const air = must(
      moistAir(kelvinFromCelsius(40), { wetBulb: kelvinFromCelsius(20) }, STANDARD_ATMOSPHERE),
    );
    expect(air.humidityRatio * 1e3).toBeCloseTo(6.5, 0);
    expect(air.enthalpy / 1e3).toBeGreaterThan(56.2);
    expect(air.enthalpy / 1e3).toBeLessThan(57.2);
    expect(air.dewPoint - 273.15).toBeGreaterThan(6.5);
    expect(air.dewPoint - 273.15).toBeLessThan(7.7);
    expect(air.relativeHumidity).toBeGreaterThan(0.135);
    expect(air.relativeHumidity).toBeLessThan(0.145);
    expect(air.specificVolume).toBeCloseTo(0.896, 2);
  });

  // AHRI 210/240 indoor condition: 80 °F dry bulb and 67 °F wet bulb, known as 51 % humidity.
  it('gives the rating condition its humidity, both ways', () => {
    const dryBulb = kelvinFromFahrenheit(80);
    const air = must(moistAir(dryBulb, { wetBulb: kelvinFromFahrenheit(67) }, STANDARD_ATMOSPHERE));
    expect(air.relativeHumidity).toBeGreaterThan(0.505);
    expect(air.relativeHumidity).toBeLessThan(0.52);
    const back = must(
      moistAir(dryBulb, { relativeHumidity: air.relativeHumidity }, STANDARD_ATMOSPHERE),
    );
    expect(fahrenheitFromKelvin(back.wetBulb)).toBeCloseTo(67, 1);
  });

  it('lets the altitude count: thinner air at the same humidity has a lower wet bulb', () => {
    const at = (h: number) =>
      must(moistAir(kelvinFromFahrenheit(80), { relativeHumidity: 0.3 }, atmosphereAtAltitude(h)));
    expect(at(1600).wetBulb).toBeLessThan(at(0).wetBulb - 0.3);
    expect(at(1600).specificVolume / at(0).specificVolume).toBeCloseTo(
      101_325 / atmosphereAtAltitude(1600),
      1,
    );
  });

  it('does not depend on the unit system somebody else left switched on', () => {
    const state = () =>
      must(moistAir(kelvin(300), { relativeHumidity: 0.5 }, STANDARD_ATMOSPHERE)).enthalpy;
    const before = state();
    psychrolib.SetUnitSystem(psychrolib.IP);
    expect(state()).toBe(before);
  });

  it('refuses what air cannot be, as data', () => {
    const dryBulb = kelvinFromFahrenheit(75);
    const wet = moistAir(dryBulb, { wetBulb: kelvinFromFahrenheit(76) }, STANDARD_ATMOSPHERE);
    expect(wet).toMatchObject({ ok: false, error: { code: 'WET_BULB_ABOVE_DRY_BULB' } });
    const dry = moistAir(dryBulb, { wetBulb: kelvinFromFahrenheit(40) }, STANDARD_ATMOSPHERE);
    expect(dry).toMatchObject({ ok: false, error: { code: 'WET_BULB_TOO_LOW' } });
    const humid = moistAir(dryBulb, { relativeHumidity: 1.2 }, STANDARD_ATMOSPHERE);
    expect(humid).toMatchObject({
      ok: false,
      error: { code: 'AIR_OUT_OF_RANGE', quantity: 'relativeHumidity', min: 0, max: 1 },
    });
    const nowhere = moistAir(kelvin(NaN), { relativeHumidity: 0.5 }, STANDARD_ATMOSPHERE);
    expect(nowhere).toMatchObject({ ok: false, error: { code: 'AIR_OUT_OF_RANGE' } });
  });
});
