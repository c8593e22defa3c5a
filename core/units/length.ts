/** One international foot in metres: exact (international yard and pound agreement, 1959). */
export const METRE_PER_FOOT = 0.3048;
/** One cubic foot a minute in m3/s: exact. */
export const M3_S_PER_CFM = METRE_PER_FOOT ** 3 / 60;
