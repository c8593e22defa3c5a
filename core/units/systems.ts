/**
 * The systems of units a person may read in: US customary (°F, psig), SI with gauge pressures in
 * kPa, or SI with gauge pressures in bar. Files and the inside of the program are SI whatever is read.
 */
export const UNIT_SYSTEMS = ['us', 'si', 'bar'] as const;
/** One of {@link UNIT_SYSTEMS}. */
export type UnitSystem = (typeof UNIT_SYSTEMS)[number];
