import { describe, expect, it } from 'vitest';
import {
  dewPoint,
  humidityRatio,
  relativeHumidity,
  saturatedHumidityRatio,
  waterSaturation,
  wetBulb,
} from '../../../../core/plant/psychro.ts';

const P = 101_325;

describe('moist air', () => {
  // Saturation pressures over water and ice, ASHRAE Handbook Fundamentals, table of the properties of water
  // at saturation (Pa, from memory).
  it.each([
    [-20, 103.2],
    [-10, 259.9],
    [0, 611.2],
    [10, 1228],
    [20, 2339],
    [30, 4246],
    [40, 7384],
  ])('saturates at %s °C as the printed tables do, within 0.5 %', (celsius, pascal) => {
    expect(Math.abs(waterSaturation(celsius + 273.15) / pascal - 1)).toBeLessThan(0.005);
  });

  it('knows the AHRI indoor point: 80 °F dry and 67 °F wet bulb', () => {
    // 26.67 °C / 19.44 °C: humidity ratio 0.0112, dew point 15.8 °C, relative humidity 51 % (from memory).
    const w = 0.0112;
    expect(wetBulb(299.82, w, P) - 273.15).toBeCloseTo(19.44, 0);
    expect(Math.abs(wetBulb(299.82, w, P) - 292.59)).toBeLessThan(0.2);
    expect(Math.abs(dewPoint(w, P) - 288.95)).toBeLessThan(0.3);
    expect(relativeHumidity(299.82, w, P)).toBeCloseTo(0.51, 2);
  });

  it('turns round: humidity ratio, relative humidity, dew point, wet bulb of saturated air', () => {
    for (const t of [255, 268, 274, 290, 310]) {
      const w = saturatedHumidityRatio(t, P);
      expect(Math.abs(dewPoint(w, P) - t)).toBeLessThan(0.02);
      expect(Math.abs(wetBulb(t, w, P) - t)).toBeLessThan(0.02);
      expect(relativeHumidity(t, humidityRatio(t, 0.4, P), P)).toBeCloseTo(0.4, 6);
    }
  });
});
