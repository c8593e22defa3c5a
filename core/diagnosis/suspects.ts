import type { Metering, Mode } from '../circuit/types.ts';

/** Every cause that is weighed. 'cannotTell' stands for a cause that is not in this list. */
export const SUSPECT_KEYS = [
  'nothingWrong',
  'lowCharge',
  'overcharge',
  'lowIndoorAir',
  'icedCoil',
  'fouledOutdoorCoil',
  'liquidLineRestriction',
  'nonCondensables',
  'compressorValveLeak',
  'reversingValveLeak',
  'valveHunting',
  'valveStarved',
  'valveOpen',
  'wrongRefrigerant',
  'shortCycling',
  'sensorFault',
  'cannotTell',
] as const;
export type SuspectKey = (typeof SUSPECT_KEYS)[number];

/** A number for each suspect. */
export type BySuspect = Readonly<Record<SuspectKey, number>>;

/**
 * How often each is behind a service call, before any reading: our own rough weights from common
 * practice, no source. Charge and air are common, valves and compressors rare.
 */
const PRIOR: BySuspect = {
  nothingWrong: 0.34,
  lowCharge: 0.13,
  overcharge: 0.08,
  lowIndoorAir: 0.1,
  icedCoil: 0.02,
  fouledOutdoorCoil: 0.09,
  liquidLineRestriction: 0.05,
  nonCondensables: 0.03,
  compressorValveLeak: 0.025,
  reversingValveLeak: 0.02,
  valveHunting: 0.02,
  valveStarved: 0.025,
  valveOpen: 0.025,
  wrongRefrigerant: 0.005,
  shortCycling: 0.01,
  sensorFault: 0.04,
  cannotTell: 0.02,
};

/** Suspects that can exist in this kind of unit, with their prior probabilities (sum 1). */
export function priors(metering: Metering, mode: Mode, heatPump: boolean): BySuspect {
  const possible = (key: SuspectKey): boolean => {
    if (key === 'reversingValveLeak') return heatPump || mode === 'heating';
    if (key === 'valveHunting' || key === 'valveStarved' || key === 'valveOpen') {
      return metering !== 'fixed';
    }
    return true;
  };
  return normalised(bySuspect((key) => (possible(key) ? PRIOR[key] : 0)));
}

/** Builds a number for each suspect. */
export function bySuspect(f: (key: SuspectKey) => number): BySuspect {
  return Object.fromEntries(SUSPECT_KEYS.map((key) => [key, f(key)])) as BySuspect;
}

/** Scales to a sum of one. A sum of zero (no hypothesis left) is returned as it is. */
export function normalised(weights: BySuspect): BySuspect {
  const sum = SUSPECT_KEYS.reduce((total, key) => total + weights[key], 0);
  return sum > 0 ? bySuspect((key) => weights[key] / sum) : weights;
}

/** One update of Bayes: prior times likelihood, to a sum of one. */
export function updated(prior: BySuspect, likelihood: BySuspect): BySuspect {
  return normalised(bySuspect((key) => prior[key] * likelihood[key]));
}
