import { describe, expect, it } from 'vitest';
import {
  channelReading,
  figureReading,
  sensorUncertainty,
  type ReadingContext,
} from '../../../../core/circuit/readings.ts';
import type { Mode } from '../../../../core/circuit/types.ts';
import { refrigerant } from '../../../../core/refrigerant/refrigerants.ts';
import type { ChannelKey } from '../../../../core/stream/channels.ts';
import { testConfig } from '../../../support/session.ts';

const MEANS: Partial<Record<ChannelKey, number>> = {
  suctionPressure: 9e5,
  liquidPressure: 26e5,
  returnAirTemp: 294,
  outdoorAirTemp: 280,
};
const AVERAGE = { mean: 20, n: 60, uStat: 0.01, blocks: 10 };

function contextOf(mode: Mode): ReadingContext {
  const config = testConfig({ mode });
  return {
    refrigerant: refrigerant('R-410A'),
    config,
    atmosphere: config.atmosphere,
    window: { from: 0, to: 60 },
    means: (key) => MEANS[key] ?? NaN,
    marks: [],
  };
}

describe('a figure that means something in one mode only', () => {
  it('stands against the air that the coil of that mode meets', () => {
    const cooling = contextOf('cooling');
    const heating = contextOf('heating');
    for (const key of ['condensingOverOutdoor', 'returnOverEvaporating'] as const) {
      expect(figureReading(key, AVERAGE, cooling)).not.toBeNull();
      expect(figureReading(key, AVERAGE, heating)).toBeNull();
    }
    for (const key of ['condensingOverReturn', 'outdoorOverEvaporating'] as const) {
      expect(figureReading(key, AVERAGE, cooling)).toBeNull();
      expect(figureReading(key, AVERAGE, heating)).not.toBeNull();
    }
  });

  it('is there in both where it means the same', () => {
    for (const mode of ['cooling', 'heating'] as const) {
      expect(figureReading('pressureRatio', AVERAGE, contextOf(mode))).not.toBeNull();
    }
  });
});

describe('the uncertainty of a reading', () => {
  it('holds that of the property formulation, where sensors and atmosphere have none', () => {
    const context = contextOf('cooling');
    const perfect: ReadingContext = {
      ...context,
      config: {
        ...context.config,
        gauge: { channels: [], convertedWith: 101_325 },
        accuracy: { suctionPressure: { absolute: 0 } },
      },
    };
    const still = { ...AVERAGE, uStat: 0 };
    const reading = figureReading('suctionSaturation', still, perfect);
    // 0.2 % of the pressure (k = 2) through the slope of the dew curve.
    const expected = 0.002 * 9e5 * context.refrigerant.curves.tDewSlope(9e5);
    expect(reading?.u).toBeCloseTo(expected, 5);
    expect(reading?.uSystematic).toBe(reading?.u);
  });

  it('is the sensor and the atmosphere for a gauge pressure, the sensor alone for a temperature', () => {
    const { config, ...context } = contextOf('cooling');
    const accuracy = { suctionPressure: { absolute: 3000 }, returnAirTemp: { absolute: 0.4 } };
    const stated = { ...context, config: { ...config, accuracy } };
    const still = { mean: 9e5, n: 60, uStat: 0, blocks: 10 };
    // Known altitude: 2000 Pa (k = 2).
    expect(channelReading('suctionPressure', still, stated).u).toBeCloseTo(
      Math.hypot(3000, 2000),
      6,
    );
    expect(channelReading('returnAirTemp', { ...still, mean: 294 }, stated).u).toBeCloseTo(0.4, 9);
  });

  it('is that of the sensor alone where one block tells nothing of the scatter', () => {
    const { config, ...context } = contextOf('cooling');
    const accuracy = { returnAirTemp: { absolute: 0.4 } };
    const single = { mean: 294, n: 5, uStat: NaN, blocks: 1 };
    const stated = { ...context, config: { ...config, accuracy } };
    expect(channelReading('returnAirTemp', single, stated).u).toBeCloseTo(0.4, 9);
  });

  it('adds the scatter of the block means by Student’s t of one block fewer', () => {
    const { config, ...context } = contextOf('cooling');
    const stated = {
      ...context,
      config: { ...config, accuracy: { returnAirTemp: { absolute: 0 } } },
    };
    const scattered = { mean: 294, n: 60, uStat: 0.1, blocks: 11 };
    // t(10) = 2.228 (standard tables)
    expect(channelReading('returnAirTemp', scattered, stated).u).toBeCloseTo(0.2228, 9);
  });
});

describe('a sensor that errs by a percentage of its reading', () => {
  const { config, atmosphere } = contextOf('cooling');
  const onePercent = { ofReading: 0.01 };
  const percent = {
    config: {
      ...config,
      accuracy: {
        suctionPressure: onePercent,
        suctionLineTemp: onePercent,
        compressorCurrent: onePercent,
      },
    },
    atmosphere,
  };
  it.each([
    ['suctionPressure', atmosphere.pressure + 5e5, 5000],
    ['suctionLineTemp', 273.15 + 50, 0.5],
    // Half a degree of 1 °C would be none: it counts as 25 °C.
    ['suctionLineTemp', 273.15 + 1, 0.25],
    ['suctionLineTemp', 273.15 - 40, 0.4],
    ['compressorCurrent', 20, 0.2],
  ] as const)('counts as it is shown: %s at %d', (channel, value, halfWidth) => {
    expect(2 * sensorUncertainty(percent, channel, value).u).toBeCloseTo(halfWidth, 9);
  });
});
