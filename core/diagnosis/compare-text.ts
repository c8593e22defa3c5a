import type { ComparedPair, ComparedUnit, Comparison } from '../checks/compare.ts';
import type { Mode } from '../circuit/types.ts';
import { checkRow } from './checks-table.ts';
import type { Difference } from './differences.ts';
import { featureLabel, featureText } from './evidence-text.ts';
import { differenceText, numberText, percentText, type UnitStyle } from './format.ts';
import { refusalText, SUSPECT_LABEL } from './words.ts';

/** Readings this far apart in time are not of one weather, s. */
const FAR_APART_S = 1800;
/** A suspect from this probability on is named. */
const NAMED = 0.08;

/** Why two units are not compared, in words. */
const UNLIKE: Readonly<Record<NonNullable<ComparedPair['unlike']>, string>> = {
  refrigerant: 'they hold different refrigerants',
  metering: 'they meter the refrigerant differently',
  mode: 'one cools while the other heats',
  notReadable: 'the readings of at least one cannot be judged (see what stands in its way)',
};

/** One difference, part by part: for a row of a table, or joined into a sentence. */
export interface DifferenceParts {
  readonly label: string;
  /** As read at the first unit and at the second. */
  readonly first: string;
  readonly second: string;
  /** How the first stands to the second once corrected; 'unclear' within the uncertainty. */
  readonly side: 'higher' | 'lower' | 'unclear';
  /** First minus second, corrected, with its uncertainty; without sign where a side is told. */
  readonly difference: string;
  /** What the different conditions make of it, null where that is nothing. */
  readonly correction: string | null;
}

/** A difference in its parts, in the units of the person who reads. */
export function differenceParts(
  { feature, first, second, corrected, u, correction }: Difference,
  mode: Mode,
  style: UnitStyle,
): DifferenceParts {
  const amount = (x: number): string =>
    feature === 'current' ? `${numberText(x, 1)} A` : differenceText(x, style);
  const clear = Math.abs(corrected) > u;
  return {
    label: featureLabel(feature, mode),
    first: featureText(feature, first.value, style),
    second: featureText(feature, second.value, style),
    side: clear ? (corrected > 0 ? 'higher' : 'lower') : 'unclear',
    difference: `${amount(clear ? Math.abs(corrected) : corrected)} ± ${amount(u)}`,
    correction:
      Math.abs(correction.value) < 0.05
        ? null
        : `${amount(correction.value)} ± ${amount(correction.u)}`,
  };
}

/** One difference in a sentence, with the correction that was made. */
export function differenceSentence(
  difference: Difference,
  pair: ComparedPair,
  mode: Mode,
  style: UnitStyle,
): string {
  const parts = differenceParts(difference, mode, style);
  const values = `${parts.label}: ${parts.first} and ${parts.second}`;
  const moved =
    parts.correction === null ? '' : ` after ${parts.correction} for the different conditions`;
  return parts.side === 'unclear'
    ? `${values}: no clear difference (${parts.difference}${moved}).`
    : `${values}: ${pair.first} is ${parts.difference} ${parts.side}${moved}.`;
}

function direction(pair: ComparedPair, feature: Difference['feature']): -1 | 0 | 1 {
  const found = pair.differences.find((d) => d.feature === feature);
  if (found === undefined || Math.abs(found.corrected) <= found.u) return 0;
  return found.corrected > 0 ? 1 : -1;
}

/** A coil short of refrigerant shows it in the superheat; one short of air does not. */
function fedOrAired(pair: ComparedPair, odd: string): string {
  const side = odd === pair.first ? 1 : -1;
  const superheat = direction(pair, 'superheat') * side;
  const known = pair.differences.some((d) => d.feature === 'superheat');
  if (superheat > 0) {
    return `its superheat is higher as well, so its coil is fed too little (a restriction, the metering device, the charge) rather than short of air.${chargeOrWay(pair, side)}`;
  }
  return known
    ? `its superheat is no higher, so it is short of air over the indoor coil rather than fed too little.`
    : `it is short of air over the indoor coil, or its coil is fed too little (a restriction, the metering device, the charge); superheat would tell.`;
}

/**
 * Liquid that is throttled turns colder there. It backs up before an obstacle, and is missing where
 * the charge is short.
 * @param side 1 where the odd unit is the first of the pair, -1 where it is the second
 */
function chargeOrWay(pair: ComparedPair, side: 1 | -1): string {
  if (direction(pair, 'drierDrop') * side > 0) {
    return ' Its liquid turns colder across the drier: the restriction is there.';
  }
  const subcooling = direction(pair, 'subcooling') * side;
  if (subcooling > 0) {
    return ' Its subcooling is higher too: liquid backs up before a restriction or the metering device, so the charge is not what it lacks.';
  }
  return subcooling < 0 ? ' Its subcooling is lower: the charge comes first.' : '';
}

/** What the two saturation temperatures together point to; told in cooling only. */
export function patternText(pair: ComparedPair, mode: Mode): string | null {
  if (mode !== 'cooling' || pair.unlike !== null) return null;
  const evaporating = direction(pair, 'evaporating');
  const condensing = direction(pair, 'condensing');
  if (evaporating === 0 && condensing === 0) return null;
  if (evaporating !== 0 && condensing === -evaporating) {
    const [high, low] = evaporating < 0 ? [pair.first, pair.second] : [pair.second, pair.first];
    return `${high} evaporates lower and condenses higher than ${low}. A smaller charge lowers both, so the amount of charge alone does not explain it: a restriction before the valve or too much refrigerant in ${high}, or a compressor or reversing valve that lets gas through in ${low}, is likelier.`;
  }
  const lower = evaporating < 0 || condensing < 0;
  const [odd, like] = lower ? [pair.first, pair.second] : [pair.second, pair.first];
  if (evaporating !== 0 && condensing !== 0) {
    const side = odd === pair.first ? 1 : -1;
    if (direction(pair, 'superheat') * side > 0) {
      return `${odd} evaporates and condenses lower than ${like}: ${fedOrAired(pair, odd)}`;
    }
    return `${odd} evaporates and condenses lower than ${like}: too little refrigerant, too little indoor air or a restriction in ${odd}, or an outdoor coil short of air in ${like}. Look at the air of both first.`;
  }
  if (evaporating !== 0)
    return `${odd} evaporates lower than ${like} at like condensing: ${fedOrAired(pair, odd)}`;
  return `${like} condenses higher than ${odd} at like evaporating: an outdoor coil short of air, too much refrigerant or another gas in ${like}, or too little refrigerant in ${odd}.`;
}

/** Why a pair is not compared, or what had to be assumed where it is. */
export function pairNotes(pair: ComparedPair, style: UnitStyle): string[] {
  if (pair.unlike !== null) {
    return [`${pair.first} and ${pair.second} are not compared: ${UNLIKE[pair.unlike]}.`];
  }
  const lines: string[] = [];
  if (!pair.conditionsKnown) {
    lines.push(
      `Outdoor and return air were not measured at both: they are taken as equal within ${differenceText(2, style)}.`,
    );
  }
  if (pair.apart !== null && pair.apart > FAR_APART_S) {
    lines.push(
      `The two readings were taken ${Math.round(pair.apart / 60)} minutes apart; the corrections carry that only as far as the air was measured.`,
    );
  }
  return lines;
}

/** What a pair comes to: what was assumed, what differs, what it points to. */
export function pairText(pair: ComparedPair, mode: Mode, style: UnitStyle): string[] {
  const notes = pairNotes(pair, style);
  if (pair.unlike !== null) return notes;
  const pattern = patternText(pair, mode);
  return [
    ...notes,
    ...pair.differences.map((difference) => differenceSentence(difference, pair, mode, style)),
    ...(pattern === null ? [] : [pattern]),
  ];
}

/** What the comparison leaves for one unit: first suspects and the check that decides. */
export function unitText(unit: ComparedUnit, style: UnitStyle): string {
  const { diagnosis, judgement } = unit;
  const barrier = judgement.refusals.find((r) => r.blocks === 'all');
  const stands = barrier === undefined ? '' : ` ${refusalText(barrier, style)}`;
  const named = diagnosis.suspects
    .filter((s) => s.probability >= NAMED && s.key !== 'cannotTell')
    .slice(0, 4)
    .map((s) => `${SUSPECT_LABEL[s.key].toLowerCase()} (${percentText(s.probability)})`);
  const next =
    diagnosis.nextCheck === null
      ? ''
      : ` Next: ${checkRow(diagnosis.nextCheck.check).label.toLowerCase()}.`;
  if (diagnosis.answer === 'nothingWrong') {
    return `${unit.label}: nothing clearly wrong${named.length > 1 ? ` (${named.join(', ')})` : ''}.${stands}`;
  }
  if (named.length === 0) return `${unit.label}: cannot tell.${next}${stands}`;
  const head = diagnosis.answer === 'cannotTell' ? 'not decided yet' : 'first suspects';
  return `${unit.label}: ${head}: ${named.join(', ')}.${next}${stands}`;
}

/** The whole comparison in lines. */
export function comparisonText(comparison: Comparison, mode: Mode, style: UnitStyle): string[] {
  return [
    ...comparison.pairs.flatMap((pair) => pairText(pair, mode, style)),
    ...comparison.units.map((unit) => unitText(unit, style)),
  ];
}
