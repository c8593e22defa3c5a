import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { moistAir } from '../../../../core/circuit/psychrometrics.ts';
import { channelRow } from '../../../../core/stream/channels.ts';
import { kelvin, pascal } from '../../../../core/units/brands.ts';
import { STANDARD_ATMOSPHERE } from '../../../../core/units/pressure.ts';

const AIR = channelRow('returnAirTemp');
const dryBulb = fc.double({ min: AIR.min, max: AIR.max, noNaN: true });
const humidity = fc.double({ min: 0, max: 1, noNaN: true });
const atmosphere = fc.double({ min: 4e4, max: 1.1e5, noNaN: true });

function stateOf(t: number, relativeHumidity: number, p: number) {
  const air = moistAir(kelvin(t), { relativeHumidity }, pascal(p));
  if (!air.ok) throw new Error(JSON.stringify(air.error));
  return air.value;
}

describe('moist air', () => {
  it('has a state over the whole range of an air sensor, in the order dew, wet, dry bulb', () => {
    fc.assert(
      fc.property(dryBulb, humidity, atmosphere, (t, rh, p) => {
        const air = stateOf(t, rh, p);
        expect(Object.values(air).every(Number.isFinite)).toBe(true);
        // The wet bulb is found to 1 mK.
        expect(air.wetBulb).toBeLessThanOrEqual(t + 0.002);
        expect(air.dewPoint).toBeLessThanOrEqual(air.wetBulb + 0.002);
        expect(air.specificVolume).toBeGreaterThan(0);
      }),
    );
  });

  it.each([AIR.min, AIR.max])('has one at the end of that range, %d K, and none beyond', (t) => {
    const beyond = t === AIR.min ? t - 0.01 : t + 0.01;
    expect(stateOf(t, 0.5, STANDARD_ATMOSPHERE).dryBulb).toBe(t);
    expect(moistAir(kelvin(beyond), { relativeHumidity: 0.5 }, STANDARD_ATMOSPHERE)).toMatchObject({
      ok: false,
      error: { code: 'AIR_OUT_OF_RANGE', quantity: 'dryBulb' },
    });
  });

  it('comes back from its own wet bulb', () => {
    // Above freezing: below it the wet bulb says hardly anything of the moisture.
    const warm = fc.double({ min: 278, max: AIR.max, noNaN: true });
    fc.assert(
      fc.property(warm, fc.double({ min: 0.3, max: 1, noNaN: true }), atmosphere, (t, rh, p) => {
        const { wetBulb, relativeHumidity } = stateOf(t, rh, p);
        const back = moistAir(kelvin(t), { wetBulb: kelvin(Math.min(wetBulb, t)) }, pascal(p));
        if (!back.ok) throw new Error(JSON.stringify(back.error));
        expect(Math.abs(back.value.relativeHumidity - relativeHumidity)).toBeLessThan(1e-3);
      }),
    );
  });

  it('holds more water, and more heat, the more humid it is', () => {
    fc.assert(
      fc.property(dryBulb, humidity, humidity, atmosphere, (t, a, b, p) => {
        fc.pre(a + 0.01 < b);
        const drier = stateOf(t, a, p);
        const wetter = stateOf(t, b, p);
        expect(wetter.humidityRatio).toBeGreaterThanOrEqual(drier.humidityRatio);
        expect(wetter.enthalpy).toBeGreaterThanOrEqual(drier.enthalpy);
      }),
    );
  });
});
