import { fahrenheitFromDifference, fahrenheitFromKelvin } from '../units/temperature.ts';
import { kelvin, pascal } from '../units/brands.ts';
import { PASCAL_PER_BAR, PASCAL_PER_PSI, psigFromPascal } from '../units/pressure.ts';
import type { UnitSystem } from '../units/systems.ts';

/** In which units a person reads. */
export type UnitStyle = UnitSystem;

/** A number with fixed decimals, a true minus sign, and no negative zero. */
export function numberText(value: number, decimals: number): string {
  const text = Math.abs(value).toFixed(decimals);
  return value < 0 && Number(text) !== 0 ? `−${text}` : text;
}

/** A temperature level from K. */
export function temperatureText(t: number, style: UnitStyle): string {
  return style === 'us'
    ? `${numberText(fahrenheitFromKelvin(kelvin(t)), 1)} °F`
    : `${numberText(t - 273.15, 1)} °C`;
}

/** A difference of temperatures from K. */
export function differenceText(dt: number, style: UnitStyle): string {
  return style === 'us'
    ? `${numberText(fahrenheitFromDifference(dt), 1)} °F`
    : `${numberText(dt, 1)} K`;
}

/** A gauge pressure from Pa absolute and the atmosphere, Pa. */
export function pressureText(p: number, atmosphere: number, style: UnitStyle): string {
  switch (style) {
    case 'us':
      return `${numberText(psigFromPascal(pascal(p), pascal(atmosphere)), 0)} psig`;
    case 'si':
      return `${numberText((p - atmosphere) / 1e3, 0)} kPa gauge`;
    case 'bar':
      return `${numberText((p - atmosphere) / PASCAL_PER_BAR, 1)} bar gauge`;
  }
}

/** A difference of pressures from Pa. */
export function pressureDifferenceText(dp: number, style: UnitStyle): string {
  switch (style) {
    case 'us':
      return `${numberText(dp / PASCAL_PER_PSI, 1)} psi`;
    case 'si':
      return `${numberText(dp / 1e3, 1)} kPa`;
    case 'bar':
      return `${numberText(dp / PASCAL_PER_BAR, 2)} bar`;
  }
}

/** A duration from s, in minutes. */
export function minutesText(seconds: number): string {
  const minutes = Math.round(seconds / 60);
  return `${minutes} ${minutes === 1 ? 'minute' : 'minutes'}`;
}

/** A probability as a whole percentage; never 0 % or 100 % of what is not certain. */
export function percentText(p: number): string {
  if (p < 0.005) return 'under 1 %';
  if (p > 0.995) return 'over 99 %';
  return `${Math.round(100 * p)} %`;
}
