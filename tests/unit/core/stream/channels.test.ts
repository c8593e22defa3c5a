import { describe, expect, it } from 'vitest';
import { SiteSchema } from '../../../../core/record/job.ts';
import { EngineConfigSchema } from '../../../../core/record/session.ts';
import { refrigerant } from '../../../../core/refrigerant/refrigerants.ts';
import { REFRIGERANT_IDS } from '../../../../core/refrigerant/types.ts';
import {
  CHANNEL_KEYS,
  channelRow,
  isChannelKey,
  type ChannelKey,
} from '../../../../core/stream/channels.ts';
import { atmosphereAtAltitude } from '../../../../core/units/pressure.ts';
import { testConfig } from '../../../support/session.ts';

const takes = (key: ChannelKey, value: number): boolean =>
  value >= channelRow(key).min && value <= channelRow(key).max;

describe('the channel table', () => {
  it('takes every saturation pressure of every refrigerant, and a hose under vacuum', () => {
    const ends = REFRIGERANT_IDS.flatMap((id) => {
      const { pMin, pMax } = refrigerant(id).range;
      return [pMin, pMax];
    });
    for (const key of ['suctionPressure', 'liquidPressure', 'dischargePressure'] as const) {
      expect([...ends, 0].every((p) => takes(key, p))).toBe(true);
    }
  });

  it('takes the atmosphere of every altitude that a site may have, and so do the assumptions', () => {
    for (const altitude_m of [-500, 0, 6000]) {
      const site = { name: '', address: '', altitude_m };
      expect(SiteSchema.safeParse(site).success).toBe(true);
      const pressure = atmosphereAtAltitude(altitude_m);
      expect(takes('barometricPressure', pressure)).toBe(true);
      const config = testConfig({ atmosphere: { pressure, kind: 'altitude' } });
      expect(EngineConfigSchema.safeParse(config).success).toBe(true);
    }
  });

  it('takes the zero of a current clamp that is a little off', () => {
    expect(takes('compressorCurrent', -0.1)).toBe(true);
    expect(takes('compressorCurrent', -5)).toBe(false);
  });

  it('takes humidity as a fraction only', () => {
    expect(takes('returnAirHumidity', 0) && takes('returnAirHumidity', 1)).toBe(true);
    expect(takes('returnAirHumidity', 1.01) || takes('returnAirHumidity', 50)).toBe(false);
  });

  it('takes no temperature below that of dry ice, nor what only a wrong unit gives', () => {
    const temperatures = CHANNEL_KEYS.filter((key) => channelRow(key).quantity === 'temperature');
    expect(temperatures.length).toBeGreaterThan(8);
    for (const key of temperatures) {
      expect(takes(key, 293.15)).toBe(true);
      // 20 taken for kelvin, and dry ice at 194.7 K (from memory).
      expect(takes(key, 20) || takes(key, 194.7)).toBe(false);
    }
  });

  it('knows its own keys and no others', () => {
    expect(CHANNEL_KEYS.every(isChannelKey)).toBe(true);
    expect(isChannelKey('toString') || isChannelKey('__proto__') || isChannelKey('')).toBe(false);
  });
});
