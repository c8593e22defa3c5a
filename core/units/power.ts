/** One Btu (International Table, 1055.05585262 J, exact) an hour, W. */
export const WATT_PER_BTUH = 1055.05585262 / 3600;
