import { differenceText, percentText, temperatureText, type UnitStyle } from './format.ts';
import type { Hazard, HazardCode } from './hazards.ts';

type Texts = Readonly<Record<HazardCode, (h: Hazard, style: UnitStyle) => string>>;

const TEXT: Texts = {
  LIQUID_BACK: (h, style) =>
    `Superheat ${differenceText(h.reading.value, style)} ± ${differenceText(h.reading.u, style)} is under the ${differenceText(h.limit, style)} that makers ask for at the suction valve (${percentText(h.probability)} likely): liquid may be reaching the compressor. Do not leave it running like this.`,
  COIL_FREEZING: (h, style) =>
    `Evaporating at ${temperatureText(h.reading.value, style)} ± ${differenceText(h.reading.u, style)}, below freezing (${percentText(h.probability)} likely): the indoor coil ices over, and then liquid may reach the compressor. Look at the air first; do not leave it running like this.`,
  HOT_DISCHARGE: (h, style) =>
    `Discharge line at ${temperatureText(h.reading.value, style)} ± ${differenceText(h.reading.u, style)}, above ${temperatureText(h.limit, style)} (${percentText(h.probability)} likely; common practice, the maker’s limit decides): oil and windings suffer. Find the cause before it is left running. It burns at a touch.`,
  HIGH_CONDENSING: (h, style) =>
    `Condensing at ${temperatureText(h.reading.value, style)} ± ${differenceText(h.reading.u, style)}, above ${temperatureText(h.limit, style)} (${percentText(h.probability)} likely; a limit as remembered, the maker’s own decides): near what a compressor stands, and the high-pressure switch may open. Look at the coil that rejects the heat, its fan and its air: in cooling the outdoor coil, in heating the indoor filter, blower and registers.`,
};

/** A hazard in a sentence: what was read, against which limit, what to do. */
export function hazardText(hazard: Hazard, style: UnitStyle): string {
  return TEXT[hazard.code](hazard, style);
}

/** A hazard in few words, for a glance. */
export const HAZARD_LABEL: Readonly<Record<HazardCode, string>> = {
  LIQUID_BACK: 'liquid may reach the compressor',
  COIL_FREEZING: 'the indoor coil is below freezing',
  HOT_DISCHARGE: 'discharge line too hot',
  HIGH_CONDENSING: 'condensing very high',
};
