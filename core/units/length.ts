/** One international foot in metres: exact (international yard and pound agreement, 1959). */
export const METRE_PER_FOOT = 0.3048;
