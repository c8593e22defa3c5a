/** One avoirdupois pound in kilograms: exact (international yard and pound agreement, 1959). */
export const KILOGRAM_PER_POUND = 0.45359237;
