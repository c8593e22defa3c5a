import { describe, expect, it } from 'vitest';
import { figureReading, type ReadingContext } from '../../../../core/circuit/readings.ts';
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
