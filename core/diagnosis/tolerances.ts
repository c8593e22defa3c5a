import { M3_S_PER_CFM } from '../units/flow.ts';
import { WATT_PER_BTUH } from '../units/power.ts';
import { differenceFromFahrenheit } from '../units/temperature.ts';
import type { StandardKey } from './types.ts';

/** How far from its target a reading may lie, K, and what the procedure asks before it counts. */
export interface Standard {
  readonly superheat: number;
  readonly subcooling: number;
  readonly split: number;
  /** Range of superheat that shows a working valve where its maker names none. */
  readonly valveRange: readonly [number, number];
  /** Run time before measuring, s. */
  readonly runTime: number;
  readonly fromMemory: boolean;
}

const degF = differenceFromFahrenheit;
const RUN_TIME_S = 15 * 60;

/**
 * California Title 24 Reference Residential Appendix RA3.2: 15 minutes of running, superheat ±5 °F
 * for the installer (2008, RA3-14), subcooling ±3 °F for the installer (2008, RA3-15), split ±3 °F
 * installer, ±4 °F rater (2008, RA3-16), valve range 4 to 25 °F installer, 3 to 26 °F rater (2008,
 * RA3-15). The rater's ±6 °F of superheat is of 2008; the rater's ±4 °F of subcooling (2008) is
 * from memory. ANSI/ACCA 5 QI 2015: superheat ±5 °F, subcooling ±3 °F of the maker's value, from
 * memory; it names no split and no valve range, so those of RA3.2 stand in.
 */
export const STANDARDS: Readonly<Record<StandardKey, Standard>> = {
  ra32Installer: {
    superheat: degF(5),
    subcooling: degF(3),
    split: degF(3),
    valveRange: [degF(4), degF(25)],
    runTime: RUN_TIME_S,
    fromMemory: false,
  },
  ra32Rater: {
    superheat: degF(6),
    subcooling: degF(4),
    split: degF(4),
    valveRange: [degF(3), degF(26)],
    runTime: RUN_TIME_S,
    fromMemory: true,
  },
  acca5: {
    superheat: degF(5),
    subcooling: degF(3),
    split: degF(3),
    valveRange: [degF(4), degF(25)],
    runTime: RUN_TIME_S,
    fromMemory: true,
  },
};

/**
 * Superheat usual behind a valve, with the suction line's part, K: 8 to 12 °F at the coil and what the line
 * adds (common practice, no source). The range of RA3.2 is wider: it finds valves that do not work at all.
 */
export const USUAL_VALVE_SUPERHEAT = { low: degF(5), high: degF(17) };

/** Outdoor air below which RA3.2 does not test the charge by running readings (RA3.2.1.1): 55 °F. */
export const OUTDOOR_FLOOR_DEGF = 55;
/** Return air below which it does not either: 70 °F (from memory: the tables begin there). */
export const RETURN_FLOOR_DEGF = 70;

/**
 * Least air over the coil that RA3.2 accepts where it was measured: 300 cfm a ton (2008, RA3-15),
 * here m3/s per W: 300 ft3/min / 12 000 Btu/h.
 */
export const LEAST_FLOW_PER_WATT = (300 * M3_S_PER_CFM) / (12_000 * WATT_PER_BTUH);
