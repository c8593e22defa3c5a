import type { Refusal } from './types.ts';

/** What stands in the way, and what to do about it: in few words, one sentence each. */
const BARRIER: Readonly<Record<Refusal['code'], readonly [what: string, toDo: string]>> = {
  NOT_RUNNING: ['the unit is not running', 'Run it, or use the standing check.'],
  UNSTEADY: ['the readings still move', 'Leave the unit alone until they are still.'],
  BLIND: ['a needed reading is missing', 'Connect its sensor and assign it.'],
  STALE: ['a needed sensor has fallen silent', 'Check its battery, distance and clamp.'],
  ICED_COIL: ['the coil is iced', 'Thaw it completely and put the air over it right first.'],
  NOT_HEATING: [
    'it cools the house although it is set to heat',
    'Wait until a defrost has ended and it has heated again for 15 minutes.',
  ],
  FROST_GROWS: ['frost grows on the outdoor coil', 'Read it soon after a defrost.'],
  RUN_TOO_SHORT: ['it has not run long enough', 'Let it run on.'],
  NOT_TO_RUN_ON: [
    'it has not run long enough, and is not to be left running as it is',
    'Put right what endangers it first.',
  ],
  AIRFLOW_UNKNOWN: [
    'the airflow is not known',
    'Measure it, or look at filter, coil and blower and confirm that they are in order.',
  ],
  AIRFLOW_LOW: ['the airflow is low', 'Put filter, coil, blower and dampers right first.'],
  AIRFLOW_MEASURED_LOW: ['the airflow is low', 'Put filter, coil, blower and dampers right first.'],
  COIL_BELOW_FREEZING: [
    'the coil is below freezing',
    'Look at coil, filter and blower, and confirm that they are in order.',
  ],
  OUTDOOR_UNKNOWN: ['outdoor air is not measured', 'Measure it in the shade at the outdoor coil.'],
  OUTDOOR_TOO_COLD: [
    'it is too cold outdoors',
    'Weigh the charge in, or come back when it is warmer.',
  ],
  RETURN_TOO_COLD: ['the house is too cold', 'Warm it up first.'],
  WET_BULB_UNKNOWN: ['the wet bulb of the return air is missing', 'Measure it, or the humidity.'],
  AIR_REFUSED: ['the air readings cannot be right', 'Check the air sensors and their assignment.'],
  TABLE: ['the weather lies outside the printed table', 'Use the maker’s own chart.'],
  NO_SUBCOOLING_TARGET: ['no target for subcooling is known', 'Enter the one on the nameplate.'],
  HEATING_BY_MAKER_ONLY: [
    'in heating only the maker’s heating chart or a scale tells the charge',
    'Type in the line of the chart, or weigh the charge.',
  ],
  BOTH_AT_ZERO: [
    'superheat and subcooling are both at or below zero',
    'Check gauges, clamps and the refrigerant chosen.',
  ],
  MISSING_READING: ['a needed reading is missing', 'Connect its sensor and assign it.'],
};

/** The first thing that stands in the way as far as `blocks` reaches, and what to do; '' for none. */
export function barrierText(refusals: readonly Refusal[], blocks: Refusal['blocks']): string {
  const first = refusals.find((refusal) => refusal.blocks === blocks);
  if (first === undefined) return '';
  const [what, toDo] = BARRIER[first.code];
  return `What stands in the way: ${what}. ${toDo}`;
}
