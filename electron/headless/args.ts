import { parseArgs, type ParseArgsConfig } from 'node:util';
import { METRE_PER_FOOT } from '../../core/units/length.ts';
import { atmosphereAtAltitude, STANDARD_ATMOSPHERE } from '../../core/units/pressure.ts';
import { splitValueAndUnit } from '../../core/units/symbols.ts';
import type { Atmosphere } from '../../core/engine-types.ts';
import { METERING_KINDS, MODES, type Metering, type Mode } from '../../core/circuit/types.ts';
import { REFRIGERANT_IDS, type RefrigerantId } from '../../core/refrigerant/types.ts';

/** Something the caller got wrong: said on standard error, exit code 2. */
export class UserError extends Error {}

/** What begins with a minus and a digit is a number (-20 degF), not an option. */
const NEGATIVE = /^-\.?\d/;
/** Stands before a negative number while the options are read. */
const SHIELD = '\0';

const shield = (arg: string): string => (NEGATIVE.test(arg) ? SHIELD + arg : arg);
const unshield = (arg: string): string => (arg.startsWith(SHIELD) ? arg.slice(1) : arg);

/** Options and operands of a verb; an unknown option is the caller's error. */
export function readArgs<O extends NonNullable<ParseArgsConfig['options']>>(
  args: readonly string[],
  options: O,
): ReturnType<typeof parseArgs<{ options: O; allowPositionals: true; strict: true }>> {
  try {
    const parsed = parseArgs({
      args: args.map(shield),
      options,
      allowPositionals: true,
      strict: true,
    });
    const values: Record<string, unknown> = parsed.values;
    for (const [name, value] of Object.entries(values)) {
      if (typeof value === 'string') values[name] = unshield(value);
    }
    return { ...parsed, positionals: parsed.positionals.map(unshield) };
  } catch (error) {
    throw new UserError(error instanceof Error ? error.message : String(error));
  }
}

/** One of a closed list of words, or the caller's error naming the list. */
export function oneOf<T extends string>(
  value: string | undefined,
  list: readonly T[],
  name: string,
): T {
  const found = list.find((item) => item === value);
  if (found === undefined) {
    const got = value === undefined ? 'is missing' : `cannot be '${value}'`;
    throw new UserError(`${name} ${got}; it is one of ${list.join(', ')}`);
  }
  return found;
}

export const readRefrigerant = (value: string | undefined): RefrigerantId =>
  oneOf(value, REFRIGERANT_IDS, 'the refrigerant');
export const readMetering = (value: string | undefined): Metering =>
  oneOf(value, METERING_KINDS, '--metering');
export const readMode = (value: string | undefined): Mode => oneOf(value, MODES, '--mode');

/** A number with one of the given units, times its factor: `10min`, `600ft`. */
function readScaled(text: string, units: Readonly<Record<string, number>>, name: string): number {
  const parsed = splitValueAndUnit(text);
  const factor = parsed.ok ? units[parsed.value.unit] : undefined;
  if (!parsed.ok || factor === undefined) {
    const list = Object.keys(units).join(', ');
    throw new UserError(`${name} '${text}' must be a number with a unit of ${list}`);
  }
  return parsed.value.value * factor;
}

/** A temperature difference in K from `10degF`, `5.5degC` or `5.5K`. */
export function readDifference(text: string, name: string): number {
  return readScaled(text, { degF: 1 / 1.8, degC: 1, K: 1 }, name);
}

/** Seconds from `600s`, `10min`. */
export function readDuration(text: string, name: string): number {
  const seconds = readScaled(text, { s: 1, min: 60, h: 3600 }, name);
  if (seconds < 0) throw new UserError(`${name} cannot be negative`);
  return seconds;
}

/** The atmosphere from `--altitude 600ft`; sea level, marked as assumed, without it. */
export function readAtmosphere(altitude: string | undefined): Atmosphere {
  if (altitude === undefined) return { pressure: STANDARD_ATMOSPHERE, kind: 'assumed' };
  const metres = readScaled(altitude, { ft: METRE_PER_FOOT, m: 1 }, '--altitude');
  try {
    return { pressure: atmosphereAtAltitude(metres), kind: 'altitude' };
  } catch (error) {
    throw new UserError(error instanceof Error ? error.message : String(error));
  }
}
