import { channelRow, type ChannelKey } from '../stream/channels.ts';
import type { EngineConfig } from '../engine-types.ts';
import type { QuantityKey, QuantitySpec } from '../steadiness/types.ts';
import { differenceFromFahrenheit } from '../units/temperature.ts';
import { figureRow, type ChannelReader } from './figures.ts';

/** The figures judged for stillness, in the order of the frames given to the detector. */
export const JUDGED = [
  'suctionSaturation',
  'liquidSaturation',
  'superheat',
  'subcooling',
  'airDrop',
] as const satisfies readonly QuantityKey[];

/**
 * Half-widths of the band in which the mean of the next minutes must stay, °F. One degree is what
 * separates readings in this trade (charging tolerances are 3 to 5 °F, displays show tenths); the
 * air side is slower and coarser. Our own choice; configurable.
 */
const TOLERANCE_DEGF: Record<QuantityKey, number> = {
  suctionSaturation: 1,
  liquidSaturation: 1,
  superheat: 1,
  subcooling: 1,
  airDrop: 1.5,
};

/**
 * What the detector judges. Superheat is needed always; subcooling where a valve meters, because
 * there it is what the charge is judged by. The others are judged when present.
 */
export function specsFor(config: EngineConfig): QuantitySpec[] {
  return JUDGED.map((key) => ({
    key,
    tolerance: config.tolerances[key] ?? differenceFromFahrenheit(TOLERANCE_DEGF[key]),
    required: key === 'superheat' || (key === 'subcooling' && config.metering !== 'fixed'),
  }));
}

/** The channels a frame waits for: the inputs of the required quantities. */
export function pacedChannels(config: EngineConfig): ChannelKey[] {
  const channels = specsFor(config)
    .filter((spec) => spec.required)
    .flatMap((spec) => figureRow(spec.key).inputs.flat());
  return [...new Set(channels)];
}

/** Labels of the channels whose absence leaves these quantities without a value. */
export function missingChannels(
  quantities: readonly QuantityKey[],
  read: ChannelReader,
): readonly string[] {
  const labels = new Set<string>();
  for (const quantity of quantities) {
    for (const input of figureRow(quantity).inputs) {
      const options: readonly ChannelKey[] = typeof input === 'string' ? [input] : input;
      const [first] = options;
      if (first !== undefined && options.every((key) => Number.isNaN(read(key)))) {
        labels.add(channelRow(first).label);
      }
    }
  }
  return [...labels];
}
