import type { SafetyClass } from '../../core/refrigerant/types.ts';

/**
 * Cautions, each where its step is. They defer to the nameplate, the maker's instructions, local
 * codes and licensed practice. Sources: servicing annex of UL/IEC 60335-2-40 as printed in equipment
 * manuals (A2L); OSHA 29 CFR 1910.147 and 1910.333 (lockout, stored energy); Clean Air Act section
 * 608, 40 CFR 82.154 (venting); the safety classes of ASHRAE 34.
 */
export const DEFER =
  'Readings are aids. The nameplate, the maker’s instructions, local codes and a licensed person decide.';

export const CONNECTING: readonly string[] = [
  'Hoses and sensors must be rated for this refrigerant’s pressure. Liquid refrigerant freezes skin and eyes: goggles and gloves.',
  'Lock out and prove dead before you reach into the electrical part; capacitors keep their charge. The discharge line is hot, the fan starts by itself.',
];

export const CHARGING: readonly string[] = [
  'No charge advice while the unit is unsteady, iced, or its airflow is unknown. Never vent; never mix refrigerants.',
];

const FLAMMABLE: Record<'A2L' | 'A3', string> = {
  A2L: 'Mildly flammable (A2L): A2L-rated detector before and during work, ventilate, no ignition source, extinguisher at hand; recover all refrigerant and purge with oxygen-free nitrogen before brazing.',
  A3: 'Flammable (A3): follow the maker’s procedure for flammable refrigerants; detector, ventilation, no ignition source, extinguisher at hand; recover and purge before brazing.',
};

/** The class of a flammable refrigerant in two words; null for those that do not burn. */
export function flammableLabel(safetyClass: SafetyClass): string | null {
  if (safetyClass === 'A1') return null;
  return safetyClass === 'A2L' ? 'Mildly flammable (A2L)' : 'Flammable (A3)';
}

/** The caution of a flammable refrigerant; null for those that do not burn. */
export function flammableCaution(safetyClass: SafetyClass): string | null {
  return safetyClass === 'A1' ? null : FLAMMABLE[safetyClass];
}
