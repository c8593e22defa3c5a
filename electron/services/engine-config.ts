import type { Atmosphere, EngineConfig } from '../../core/engine-types.ts';
import type { Mark } from '../../core/circuit/types.ts';
import type { JobHead, Unit } from '../../core/record/job.ts';
import type { ChannelKey } from '../../core/stream/channels.ts';
import { atmosphereAtAltitude, STANDARD_ATMOSPHERE } from '../../core/units/pressure.ts';

/** The atmosphere of a site: from its altitude, else the standard one, marked as assumed. */
export function atmosphereOf(site: JobHead['site']): Atmosphere {
  return site.altitude_m === null
    ? { pressure: STANDARD_ATMOSPHERE, kind: 'assumed' }
    : { pressure: atmosphereAtAltitude(site.altitude_m), kind: 'altitude' };
}

/**
 * What the engine assumes about a unit of the job.
 *
 * @param gaugeChannels channels whose instruments read gauge pressure, made absolute with the
 *   atmosphere of the site
 * @param marks what every reading of the session carries
 */
export function engineConfigOf(
  unit: Unit,
  site: JobHead['site'],
  gaugeChannels: readonly ChannelKey[],
  marks: readonly Mark[],
): EngineConfig {
  const atmosphere = atmosphereOf(site);
  return {
    refrigerant: unit.refrigerant,
    metering: unit.metering,
    mode: unit.mode,
    atmosphere,
    gauge: { channels: gaugeChannels, convertedWith: atmosphere.pressure },
    accuracy: unit.accuracy,
    offsets: {},
    minimumRun: unit.minimumRun_s,
    tolerances: {},
    marks,
  };
}
