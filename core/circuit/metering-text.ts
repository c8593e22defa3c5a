import type { Metering } from './types.ts';

/** What meters the refrigerant, as the trade calls it. */
export const METERING_TEXT: Readonly<Record<Metering, string>> = {
  txv: 'Thermostatic valve',
  fixed: 'Fixed orifice',
  eev: 'Electronic valve',
};
