import type { EngineConfig } from '../../core/engine-types.ts';
import { refrigerant } from '../../core/refrigerant/refrigerants.ts';
import type { ChannelKey } from '../../core/stream/channels.ts';
import type { Sample } from '../../core/stream/sample.ts';
import { kelvinFromFahrenheit } from '../../core/units/temperature.ts';
import { STANDARD_ATMOSPHERE } from '../../core/units/pressure.ts';
import { seeded } from './random.ts';

/** An engine configuration for tests: R-410A, valve, cooling, all defaults. */
export function testConfig(overrides: Partial<EngineConfig> = {}): EngineConfig {
  return {
    refrigerant: 'R-410A',
    metering: 'txv',
    mode: 'cooling',
    atmosphere: { pressure: STANDARD_ATMOSPHERE, kind: 'altitude' },
    gauge: {
      channels: ['suctionPressure', 'liquidPressure'],
      convertedWith: STANDARD_ATMOSPHERE,
    },
    accuracy: {},
    offsets: {},
    minimumRun: 600,
    tolerances: {},
    marks: [],
    ...overrides,
  };
}

/** Temperatures (°F) a drawn session heads for, and how it gets there. */
interface DrawnSession {
  readonly seed: number;
  readonly duration: number;
  readonly rate: number;
  /** Time constant of the approach, s. */
  readonly tau: number;
  /** Start of the compressor, s; before it the pressures stand equal. */
  readonly start: number;
  /** Steps of the superheat: at (s) by (°F). */
  readonly steps?: readonly { readonly at: number; readonly by: number }[];
  /** Standard deviation of the noise, °F (temperatures) and its like in pressure. */
  readonly noise: number;
  readonly superheat?: number;
  readonly subcooling?: number;
}

/**
 * A drawn (not simulated) session: quantities that approach their end exponentially, turned into
 * pressures and temperatures of R-410A. It proves plumbing and arithmetic, not physics.
 */
export function drawnSession(of: DrawnSession): Sample[] {
  const r = refrigerant('R-410A');
  const { normal } = seeded(of.seed);
  const samples: Sample[] = [];
  const count = Math.floor(of.duration * of.rate);
  for (let i = 0; i < count; i += 1) {
    const t = i / of.rate;
    const run = t < of.start ? 0 : 1 - Math.exp(-(t - of.start) / of.tau);
    const stepped = (of.steps ?? [])
      .filter((s) => t >= s.at)
      .reduce((sum, s) => sum + s.by * (1 - Math.exp(-(t - s.at) / 20)), 0);
    const te = 80 + (45 - 80) * run;
    const tc = 80 + (110 - 80) * run;
    const values: Partial<Record<ChannelKey, number>> = {
      suctionPressure: r.curves.pDew(kelvinFromFahrenheit(te + of.noise * 0.3 * normal())),
      liquidPressure: r.curves.pBubble(kelvinFromFahrenheit(tc + of.noise * 0.3 * normal())),
      suctionLineTemp: kelvinFromFahrenheit(
        te + (of.superheat ?? 12) * run + stepped + of.noise * normal(),
      ),
      liquidLineTemp: kelvinFromFahrenheit(tc - (of.subcooling ?? 10) * run + of.noise * normal()),
      returnAirTemp: kelvinFromFahrenheit(76 + of.noise * normal()),
      supplyAirTemp: kelvinFromFahrenheit(76 - 18 * run + of.noise * normal()),
    };
    for (const [channel, value] of Object.entries(values)) {
      samples.push({ channel: channel as ChannelKey, t, value });
    }
  }
  return samples;
}
