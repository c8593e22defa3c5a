import { refrigerant } from '../../core/refrigerant/refrigerants.ts';
import type { OutOfRange } from '../../core/refrigerant/types.ts';
import type { Result } from '../../core/result.ts';
import { kelvin, pascal, type Kelvin, type Pascal } from '../../core/units/brands.ts';
import { psigFromPascal, STANDARD_ATMOSPHERE } from '../../core/units/pressure.ts';
import { isUnitSymbol, splitValueAndUnit, toSI, unitFits } from '../../core/units/symbols.ts';
import { celsiusFromKelvin, fahrenheitFromKelvin } from '../../core/units/temperature.ts';
import { readAtmosphere, readArgs, readRefrigerant, UserError } from './args.ts';

interface Point {
  readonly degF: number;
  readonly degC: number;
  readonly psig: number;
  readonly kPa: number;
}

/**
 * `saturation REFRIGERANT VALUE UNIT [--altitude 600ft]`: the bubble and dew points at a pressure
 * or a temperature. Gauge pressure is above sea level's atmosphere unless an altitude is given.
 */
export function saturation(args: readonly string[]): unknown {
  const { values, positionals } = readArgs(args, { altitude: { type: 'string' } });
  const [id, ...rest] = positionals;
  const fluid = refrigerant(readRefrigerant(id));
  const atmosphere = pascal(
    values.altitude === undefined ? STANDARD_ATMOSPHERE : readAtmosphere(values.altitude).pressure,
  );
  const text = rest.join(' ');
  const parsed = splitValueAndUnit(text);
  if (!parsed.ok || !isUnitSymbol(parsed.value.unit)) {
    throw new UserError(
      `'${text}' must be a pressure or a temperature, such as 118 psig or 95 degF`,
    );
  }
  const { value, unit } = parsed.value;
  const si = toSI(value, unit, atmosphere);
  if (unitFits(unit, 'pressure')) {
    const p = pascal(si);
    return {
      refrigerant: fluid.id,
      bubble: point(p, inRange(fluid.bubbleTemperature(p)), atmosphere),
      dew: point(p, inRange(fluid.dewTemperature(p)), atmosphere),
    };
  }
  if (!unitFits(unit, 'temperature')) {
    throw new UserError(`${unit} is neither a pressure nor a temperature`);
  }
  const t = kelvin(si);
  return {
    refrigerant: fluid.id,
    bubble: point(inRange(fluid.bubblePressure(t)), t, atmosphere),
    dew: point(inRange(fluid.dewPressure(t)), t, atmosphere),
  };
}

function point(p: Pascal, t: Kelvin, atmosphere: Pascal): Point {
  return {
    degF: round(fahrenheitFromKelvin(t), 4),
    degC: round(celsiusFromKelvin(t), 4),
    psig: round(psigFromPascal(p, atmosphere), 4),
    kPa: round(p / 1000, 4),
  };
}

/** Output is rounded beyond what the curves know (0.002 K), not more. */
function round(value: number, decimals: number): number {
  const factor = 10 ** decimals;
  return Math.round(value * factor) / factor;
}

function inRange<T>(result: Result<T, OutOfRange>): T {
  if (result.ok) return result.value;
  const e = result.error;
  const show = (x: number): string =>
    e.quantity === 'pressure'
      ? `${(x / 1000).toFixed(1)} kPa absolute`
      : `${fahrenheitFromKelvin(kelvin(x)).toFixed(1)} degF`;
  throw new UserError(
    `${show(e.value)} is outside the range of ${e.refrigerant}: ${show(e.min)} to ${show(e.max)}`,
  );
}
