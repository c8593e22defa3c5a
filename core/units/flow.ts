import { METRE_PER_FOOT } from './length.ts';

/** One cubic foot a minute in m3/s: exact. */
export const M3_S_PER_CFM = METRE_PER_FOOT ** 3 / 60;
