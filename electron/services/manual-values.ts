import { fail, ok, type Result } from '../../core/result.ts';
import { channelRow, type ChannelKey } from '../../core/stream/channels.ts';
import { isGauge, isUnitSymbol, toSI, unitFits } from '../../core/units/symbols.ts';
import type { CommandArgs } from '../bridge/commands.ts';
import { failure, type Failure } from '../bridge/errors.ts';

/** Channels that are read from analogue gauges, which measure above the local atmosphere. */
export const TYPED_GAUGE_CHANNELS = [
  'suctionPressure',
  'liquidPressure',
  'dischargePressure',
  'testPressure',
] as const satisfies readonly ChannelKey[];

interface TypedValue {
  readonly channel: ChannelKey;
  readonly value: number;
}

/**
 * Typed numbers in SI.
 *
 * @param atmosphere local atmosphere that makes gauge pressures absolute, Pa
 * @returns a failure that names the first value that cannot be right; then none is taken
 */
export function typedValues(
  values: CommandArgs<'manual.enter'>['values'],
  atmosphere: number,
): Result<readonly TypedValue[], Failure> {
  const taken: TypedValue[] = [];
  for (const { channel, value, unit } of values) {
    const row = channelRow(channel);
    const wrong = (detail: string) =>
      fail(
        failure('BAD_ARGUMENTS', { command: 'manual.enter', detail: `${row.label}: ${detail}` }),
      );
    if (!isUnitSymbol(unit) || !unitFits(unit, row.quantity)) {
      return wrong(`it cannot be in ${unit === '' ? 'no unit' : unit}`);
    }
    const gauge = (TYPED_GAUGE_CHANNELS as readonly ChannelKey[]).includes(channel);
    if (gauge && !isGauge(unit)) return wrong('type what the gauge shows: psig, kPag or barg');
    const si = toSI(value, unit, atmosphere);
    if (!(si >= row.min && si <= row.max)) return wrong(`${value} ${unit} is out of range`);
    taken.push({ channel, value: si });
  }
  return ok(taken);
}
