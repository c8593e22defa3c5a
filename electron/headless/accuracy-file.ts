import { z } from 'zod';
import { channelRow, isChannelKey, type ChannelKey } from '../../core/stream/channels.ts';
import type { Accuracy } from '../../core/circuit/types.ts';
import {
  isUnitSymbol,
  splitValueAndUnit,
  UNIT_SYMBOLS,
  unitFits,
} from '../../core/units/symbols.ts';
import { UserError } from './args.ts';
import { readJsonFile } from './json-file.ts';

/**
 * The file of `--accuracy`: for each channel the 95 % limits as a maker states them, e.g.
 * `{"suctionPressure": {"ofFullScale": {"percent": 1, "fullScale": "800 psig"}},
 *   "suctionLineTemp": {"absolute": "1 degF"}, "liquidPressure": {"ofReading": {"percent": 0.5}}}`
 */
const percent = z.number().min(0).max(100);
const row = z.strictObject({
  ofReading: z.strictObject({ percent }).optional(),
  ofFullScale: z.strictObject({ percent, fullScale: z.string() }).optional(),
  absolute: z.string().optional(),
});
const fileSchema = z.record(z.string(), row);

/** A width in the SI unit of a channel: the scale of its unit counts, not its zero. */
function width(text: string, channel: ChannelKey, where: string): number {
  const parsed = splitValueAndUnit(text);
  const unit = parsed.ok ? parsed.value.unit : '';
  if (!parsed.ok || !isUnitSymbol(unit) || !unitFits(unit, channelRow(channel).quantity)) {
    throw new UserError(`${where}: '${text}' must be a number with a unit that fits ${channel}`);
  }
  if (parsed.value.value < 0) throw new UserError(`${where}: '${text}' cannot be negative`);
  return parsed.value.value * UNIT_SYMBOLS[unit].scale;
}

/**
 * Reads the accuracy of sensors by channel.
 *
 * @throws UserError naming the file and the place in it
 */
export function readAccuracyFile(path: string): Partial<Record<ChannelKey, Accuracy>> {
  const table = readJsonFile(path, fileSchema, 'a table of accuracies');
  const accuracy: Partial<Record<ChannelKey, Accuracy>> = {};
  for (const [key, stated] of Object.entries(table)) {
    if (!isChannelKey(key)) throw new UserError(`${path}: there is no channel ${key}`);
    const where = `${path}, at ${key}`;
    const full = stated.ofFullScale;
    accuracy[key] = {
      ofReading: stated.ofReading === undefined ? undefined : stated.ofReading.percent / 100,
      ofFullScale:
        full === undefined
          ? undefined
          : { fraction: full.percent / 100, fullScale: width(full.fullScale, key, where) },
      absolute: stated.absolute === undefined ? undefined : width(stated.absolute, key, where),
    };
  }
  return accuracy;
}
