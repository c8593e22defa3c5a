import { M3_S_PER_CFM } from '../units/flow.ts';
import { kelvinFromFahrenheit } from '../units/temperature.ts';
import { assertNever } from '../result.ts';
import { channelRow } from '../stream/channels.ts';
import type { ChargeAdvice } from '../checks/running.ts';
import { figureRow } from '../circuit/figures.ts';
import type { PsychrometricRefusal } from '../circuit/psychrometrics.ts';
import {
  differenceText,
  minutesText,
  numberText,
  percentText,
  temperatureText,
  type UnitStyle,
} from './format.ts';
import type { SuspectKey } from './suspects.ts';
import type {
  Refusal,
  StandardKey,
  SuperheatChart,
  Target,
  TargetSource,
  VerdictRow,
} from './types.ts';
import type { TableRefusal } from './table.ts';
import { LEAST_FLOW_PER_WATT, USUAL_VALVE_SUPERHEAT } from './tolerances.ts';

/** What the judge says, in words: the one place of its sentences. */

export const STANDARD_LABEL: Readonly<Record<StandardKey, string>> = {
  ra32Installer: 'California RA3.2, installer',
  ra32Rater: 'California RA3.2, rater (some limits as remembered: check the standard)',
  acca5: 'ANSI/ACCA 5 QI 2015 (as remembered: check the standard)',
};
export const CHART_LABEL: Readonly<Record<SuperheatChart, string>> = {
  chargingChart: 'Published charging chart of equipment manuals',
  ra32: 'California Table RA3.2-2 (as remembered: check the printed table)',
};

/** The name of each suspect. */
export const SUSPECT_LABEL: Readonly<Record<SuspectKey, string>> = {
  nothingWrong: 'Nothing wrong',
  lowCharge: 'Too little refrigerant',
  overcharge: 'Too much refrigerant',
  lowIndoorAir: 'Low airflow over the indoor coil',
  icedCoil: 'Coil covered with ice',
  fouledOutdoorCoil: 'Outdoor coil fouled or its fan weak',
  liquidLineRestriction: 'Restriction in the liquid line (drier, screen, kink)',
  nonCondensables: 'Air or other non-condensable gas in the circuit',
  compressorValveLeak: 'Compressor not pumping to capacity (leaking valves, worn scrolls)',
  reversingValveLeak: 'Reversing valve leaking internally',
  valveHunting: 'Expansion valve hunting',
  valveStarved: 'Expansion valve feeds too little',
  valveOpen: 'Expansion valve feeds too much or is stuck open',
  wrongRefrigerant: 'Wrong or mixed refrigerant',
  shortCycling: 'Short cycling',
  sensorFault: 'An instrument is off, swapped or has slipped',
  cannotTell: 'Something else',
};

/** Where a target comes from. */
export const SOURCE_LABEL: Readonly<Record<TargetSource['code'], string>> = {
  nameplate: 'nameplate or maker’s chart, as typed in',
  makersChart: 'maker’s chart for these conditions, as typed in',
  chargingChart: 'charging chart as printed in equipment manuals (Carrier 38VTA, Lennox 14ACX)',
  ra32Superheat: 'California Title 24 RA3.2, Table RA3.2-2, as remembered: check the printed table',
  ra32Split: 'California Title 24 RA3.2, Table RA3.2-3, as remembered: check the printed table',
  ra32ValveRange: 'range that shows a working valve, California Title 24 RA3.2 (2008)',
};

const QUANTITY_LABEL: Readonly<Record<Target['quantity'], string>> = {
  superheat: 'Superheat',
  subcooling: 'Subcooling',
  airDrop: 'Air temperature drop',
};

/** A target in one line. */
export function targetText(target: Target, style: UnitStyle): string {
  const range =
    target.value === null
      ? `${differenceText(target.low, style)} to ${differenceText(target.high, style)}`
      : `${differenceText(target.value, style)} ± ${differenceText(target.high - target.value, style)}`;
  return `${QUANTITY_LABEL[target.quantity]}: ${range} (${SOURCE_LABEL[target.source.code]})`;
}

/** The odds behind a verdict, for where no bar shows them. */
export function verdictOddsText({ probability }: VerdictRow): string {
  const { below, within, above } = probability;
  return `below ${percentText(below)}, within ${percentText(within)}, above ${percentText(above)}`;
}

/** A verdict in one sentence. Its odds are shown beside it, and are not said twice. */
export function verdictText(row: VerdictRow, style: UnitStyle): string {
  const name = QUANTITY_LABEL[row.quantity];
  const value = `${differenceText(row.reading.value, style)} ± ${differenceText(row.reading.u, style)}`;
  switch (row.verdict) {
    case 'within':
      return `${name} ${value} is within its limits.${usualText(row, style)}`;
    case 'above':
      return `${name} ${value} is above its limits.`;
    case 'below':
      return `${name} ${value} is below its limits.`;
    case 'undecided':
      return undecidedText(`${name} ${value}`, row.probability);
    default:
      return assertNever(row.verdict);
  }
}

/** What is usual behind a valve, where a reading passes the wide range and is still odd; '' elsewhere. */
function usualText({ reading, target }: VerdictRow, style: UnitStyle): string {
  if (target.source.code !== 'ra32ValveRange') return '';
  const { low, high } = USUAL_VALVE_SUPERHEAT;
  const odd = reading.value > high ? 'high' : reading.value < low ? 'low' : null;
  if (odd === null) return '';
  return ` For a valve it is ${odd} all the same: ${differenceText(low, style)} to ${differenceText(high, style)} is usual.`;
}

/** From this probability on a side is called probable, though the interval still straddles a limit. */
const PROBABLE = 0.8;

function undecidedText(what: string, { below, within, above }: VerdictRow['probability']): string {
  const side =
    within >= PROBABLE
      ? 'within'
      : below >= PROBABLE
        ? 'below'
        : above >= PROBABLE
          ? 'above'
          : null;
  return side === null
    ? `${what}: with these instruments it cannot be decided.`
    : `${what} is probably ${side} its limits, but the instruments leave a doubt.`;
}

type RefusalTexts = {
  readonly [C in Refusal['code']]: (r: Extract<Refusal, { code: C }>, style: UnitStyle) => string;
};

const REFUSAL_TEXT: RefusalTexts = {
  NOT_RUNNING: () =>
    'The unit is not running. Run it for the running check, or use the standing check while it is off.',
  UNSTEADY: (r) =>
    r.state === 'starting'
      ? 'The unit has only just started. Let it run on; the readings will be judged when they are still.'
      : r.state === 'disturbed'
        ? 'Something has just changed. Leave doors, fan, thermostat and hoses alone and wait until the readings are still again.'
        : r.state === 'hunting'
          ? 'The readings swing, and their mean is not at rest yet. Leave the unit alone and wait until it is; that they swing counts already.'
          : 'The readings still move. Leave the unit alone and wait until they are still.',
  BLIND: (r) =>
    r.missing.length === 0
      ? 'A reading that is needed is missing. Connect and assign its sensor.'
      : `Missing: ${r.missing.join(', ')}. Connect and assign what is missing; a value out of its range, as of a mistaken unit, counts as missing too.`,
  STALE: (r) =>
    `No fresh value from ${r.channels.map((c) => channelRow(c).label).join(', ')}. Check battery, distance and clamp, and wait for new values.`,
  NOT_HEATING: () =>
    'It is set to heat, but the supply air is colder than the return air: it is defrosting, or its reversing valve stands in cooling. Wait until it has heated again for 15 minutes; if a defrost lasts longer than that, look at the defrost board and the reversing valve, and if it is meant to cool, choose cooling.',
  FROST_GROWS: () =>
    'Frost grows on the outdoor coil, so the readings slide with it. Read them soon after a defrost; thin even frost is normal, but a coil that stays closed by ice is not.',
  ICED_COIL: (r) =>
    r.mode === 'heating'
      ? 'The outdoor coil is iced. Thin even frost between two defrosts is normal, but readings over a coil closed by ice say nothing about the charge. Let it clear in a full defrost, as the maker says, and never chip the ice; find out why it iced (coil sensor, defrost board, outdoor fan, reversing valve, drain, air round the coil), then let it heat again and measure.'
      : r.seen === 'byPerson'
        ? 'The coil is iced. Readings over ice say nothing about the charge. Thaw it completely (compressor off and indoor fan on) and never chip the ice. Put the air over that coil right first (filter, blower, coil face), then run and measure again.'
        : 'The coil seems to be icing: evaporating is below freezing while superheat falls and the supply air warms. Look at the coil; if there is ice, thaw it completely (compressor off, indoor fan on) and put the air right before measuring again.',
  RUN_TOO_SHORT: (r) =>
    // Full minutes: 14:40 rounded would be the fifteen that are asked for.
    `It has run for ${minutesText(60 * Math.floor(r.runTime / 60))}; the procedure asks for ${minutesText(r.asked)} before the charge is judged. Let it run on.`,
  NOT_TO_RUN_ON: (r) =>
    `It has run for ${minutesText(60 * Math.floor(r.runTime / 60))}; the procedure asks for ${minutesText(r.asked)} before the charge is judged. It is not to be left running as it is: put that right first, then let it run that long.`,
  AIRFLOW_UNKNOWN: (r) => {
    const split =
      r.mode === 'cooling'
        ? '; the temperature split, by return air (dry and wet bulb) and supply air, will do as well'
        : '';
    return `Airflow is not known. Measure it, or look at filter, coil and blower and confirm that they are in order${split}. Charge is judged only after the air is right.`;
  },
  AIRFLOW_LOW: (r, style) =>
    `The air cools ${differenceText(r.over.value, style)} ± ${differenceText(r.over.u, style)} more than it should: airflow is low. Put the air right first (filter, coil, blower, dampers), then measure again.`,
  AIRFLOW_MEASURED_LOW: (r, style) =>
    `The measured airflow is below ${flowText(r.floor, style)}, the least for this unit’s capacity (${style === 'us' ? '300 cfm a ton' : `${numberText(1000 * LEAST_FLOW_PER_WATT, 3)} m³/s a kW`}). Put the air right first, then measure again.`,
  COIL_BELOW_FREEZING: (r, style) =>
    `Evaporating at ${temperatureText(r.evaporating, style)}, the coil is below freezing and will ice sooner or later. Look at the coil, the filter and the blower first, and confirm that they are in order.`,
  OUTDOOR_UNKNOWN: () =>
    'Outdoor air temperature is missing. Measure it in the shade at the inlet of the outdoor coil.',
  OUTDOOR_TOO_COLD: (r, style) =>
    `Outdoor air is ${temperatureText(r.outdoor, style)}, below the ${temperatureText(r.floor, style)} of the running method. Weigh the charge in, or come back on a warmer day, or use the maker’s own cold-weather procedure.`,
  RETURN_TOO_COLD: (r, style) =>
    `Return air is ${temperatureText(r.returnAir, style)}, below the ${temperatureText(r.floor, style)} at which the tables begin. Warm the house up first.`,
  WET_BULB_UNKNOWN: () =>
    'The wet bulb of the return air is missing. Measure it, or the humidity, in the return close to the coil.',
  AIR_REFUSED: (r, style) => airRefusalText(r.why, style),
  TABLE: (r, style) => tableRefusalText(r.table, r.why, style),
  NO_SUBCOOLING_TARGET: () =>
    'No target for subcooling. Read it from the nameplate or the maker’s papers and enter it: with an expansion valve the charge is judged by it.',
  HEATING_BY_MAKER_ONLY: () =>
    'In heating the charge is judged by the maker’s heating chart only, or weighed in. Type in its line, or weigh the charge; other faults can still be found.',
  BOTH_AT_ZERO: () =>
    'Superheat and subcooling are both at or below zero. Check gauges, clamps and the refrigerant chosen first; if they are right, liquid may be reaching the compressor: stop the unit and find out why.',
  MISSING_READING: (r) =>
    `${figureRow(r.figure).label} cannot be computed. It is the ${lowered(figureRow(r.figure).explain)} Measure what is missing of it.`,
};

/** A refusal: what stands in the way and what to do. */
export function refusalText(refusal: Refusal, style: UnitStyle): string {
  // The table is keyed by the code, so the row takes exactly this refusal.
  const text = REFUSAL_TEXT[refusal.code] as (r: Refusal, style: UnitStyle) => string;
  return text(refusal, style);
}

function lowered(sentence: string): string {
  return sentence.charAt(0).toLowerCase() + sentence.slice(1);
}

function flowText(flow: number, style: UnitStyle): string {
  return style === 'us' ? `${Math.round(flow / M3_S_PER_CFM)} cfm` : `${numberText(flow, 3)} m³/s`;
}

function airRefusalText(why: PsychrometricRefusal, style: UnitStyle): string {
  switch (why.code) {
    case 'WET_BULB_ABOVE_DRY_BULB':
      return `The wet bulb (${temperatureText(why.wetBulb, style)}) is above the dry bulb (${temperatureText(why.dryBulb, style)}), which cannot be. Swap or check the two sensors.`;
    case 'WET_BULB_TOO_LOW':
      return `The wet bulb (${temperatureText(why.wetBulb, style)}) is lower than even dry air would give. Check the sensor.`;
    case 'AIR_OUT_OF_RANGE':
      return `The ${AIR_LABEL[why.quantity]} is outside what air in a building can be. Check the sensor and its assignment.`;
    default:
      return assertNever(why);
  }
}

const AIR_LABEL = {
  dryBulb: 'dry bulb',
  wetBulb: 'wet bulb',
  relativeHumidity: 'humidity',
  atmosphere: 'atmospheric pressure',
} as const;

/** The tables are printed in °F; what they refuse is said in the person's own unit. */
function tableRefusalText(
  table: 'superheat' | 'split',
  why: TableRefusal,
  style: UnitStyle,
): string {
  const degrees = (f: number) => temperatureText(kelvinFromFahrenheit(f), style);
  const name = table === 'superheat' ? 'superheat chart' : 'temperature-split table';
  if (why.code === 'IN_THE_DASHES') {
    return table === 'superheat'
      ? `At ${degrees(why.row)} outdoors and ${degrees(why.column)} wet bulb the ${name} prints a dash: the charge cannot be tested by superheat at these conditions. Warm the house up or come back on another day.`
      : `The return air is drier than the ${name} goes. Airflow must be measured or looked at instead.`;
  }
  const entry =
    why.axis === 'column'
      ? 'return wet bulb'
      : table === 'superheat'
        ? 'outdoor air'
        : 'return air';
  return `The ${entry} of ${degrees(why.value)} is outside the ${name} (${degrees(why.min)} to ${degrees(why.max)}), and nothing is extrapolated. Bring the ${entry} into the table, or use the maker’s own chart.`;
}

/** What may be said of the charge, in words. Never a weight. */
export function chargeText(advice: ChargeAdvice, style: UnitStyle): string {
  switch (advice.code) {
    case 'REFUSED':
      return 'The charge is not judged: see what stands in the way.';
    case 'AGREES':
      return `${verdictText(advice.verdict, style)} ${
        advice.alone
          ? 'The charge agrees with its target. Leave it alone.'
          : 'By this figure the charge agrees with its target: leave it alone, and follow what else speaks first.'
      }`;
    case 'UNDECIDED':
      return `${verdictText(advice.verdict, style)} Better instruments or a longer average would decide; until then leave the charge alone.`;
    case 'LOOK_FIRST':
      return `${verdictText(advice.verdict, style)} The amount of refrigerant is only one explanation (${percentText(advice.charge)}): make the next check before touching the charge.`;
    case 'LIKELY_LOW':
      return `${verdictText(advice.verdict, style)} Too little refrigerant is the likeliest cause (${percentText(advice.charge)}). A tight circuit does not use refrigerant up: find the leak and repair it first. Where the circuit was opened, evacuate it and weigh in the maker’s charge; otherwise charge by the maker’s procedure in small steps, with a full run after each. Running pressures do not tell the weight that is missing.`;
    case 'LIKELY_HIGH':
      return `${verdictText(advice.verdict, style)} Too much refrigerant is the likeliest cause (${percentText(advice.charge)}). Make the next check first: it rules out what looks alike. Then recover the excess, never vent it, into a recovery cylinder by the maker’s procedure in small steps, with a full run after each.`;
    default:
      return assertNever(advice);
  }
}
