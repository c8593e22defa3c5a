import { assertNever } from '../result.ts';
import type { Mode } from '../circuit/types.ts';
import { checkRow } from './checks-table.ts';
import type { Suspect, Weighed } from './diagnose.ts';
import type { EvidenceItem } from './evidence.ts';
import type { Impossible } from './impossible.ts';
import type { ExpectationSource } from './expectations.ts';
import { differenceFromFahrenheit } from '../units/temperature.ts';
import { differenceText, numberText, temperatureText, type UnitStyle } from './format.ts';
import type { FeatureKey, ObservationKey, StoodStill } from './types.ts';

/** The name of a feature in a sentence. */
export function featureLabel(feature: FeatureKey, mode: Mode): string {
  switch (feature) {
    case 'evaporating':
      return 'Evaporating temperature';
    case 'superheat':
      return 'Superheat';
    case 'condensing':
      return 'Condensing temperature';
    case 'subcooling':
      return 'Subcooling';
    case 'liquidApproach':
      return mode === 'cooling' ? 'Liquid line over outdoor air' : 'Liquid line over return air';
    case 'discharge':
      return 'Discharge temperature';
    case 'compressorHeat':
      return 'Discharge temperature over what this compression makes';
    case 'airChange':
      return mode === 'cooling' ? 'Air temperature drop' : 'Air temperature rise';
    case 'drierDrop':
      return 'Drop across the drier';
    case 'current':
      return 'Compressor current';
    default:
      return assertNever(feature);
  }
}

const SOURCE: Readonly<Record<Exclude<ExpectationSource, 'dash'>, string>> = {
  baseline: 'this unit when it was healthy',
  maker: 'the maker’s data',
  target: 'its target',
  rule: 'the general rule of the trade',
};

/** Below this the superheat chart prints a dash in place of a number, K (5 °F). */
const DASH_BELOW_K = differenceFromFahrenheit(5);

function sourceText(source: ExpectationSource, style: UnitStyle): string {
  if (source !== 'dash') return SOURCE[source];
  return `the superheat chart, which prints a dash here (under ${differenceText(DASH_BELOW_K, style)}),`;
}

/** What a value of a feature looks like. */
export function featureText(feature: FeatureKey, value: number, style: UnitStyle): string {
  if (feature === 'current') return `${numberText(value, 1)} A`;
  const level = feature === 'evaporating' || feature === 'condensing' || feature === 'discharge';
  return level ? temperatureText(value, style) : differenceText(value, style);
}

/** What a person saw, in words. */
export const OBSERVATION_LABEL: Readonly<Record<ObservationKey, string>> = {
  icedCoil: 'The coil was seen iced',
  dirtyFilter: 'The filter was seen dirty',
  fouledOutdoorCoil: 'The outdoor coil was seen fouled',
  oilTraces: 'Traces of oil were seen',
  burntContacts: 'Burnt contacts were seen',
  equalChargeWeighed: 'The charge was weighed and is right',
};

const CONTRADICTION: Readonly<Record<Exclude<Impossible, 'hosesSwapped'>, string>> = {
  suctionBelowEvaporating: 'the suction line reads colder than the evaporating temperature',
  liquidAboveCondensing: 'the liquid line reads hotter than the condensing temperature',
  condensingBelowAir: 'the condensing temperature reads below the air that takes its heat',
  liquidBelowOutdoor:
    'the liquid line reads colder than the outdoor air that cools it (or it is throttled before the clamp)',
  suctionAboveOutdoor:
    'the suction line reads warmer than the outdoor air that heats it and what a tight reversing valve adds',
  suctionAboveAir: 'the suction line reads warmer than the return and the outdoor air',
  dischargeBelowCondensing:
    'the discharge line reads colder than the refrigerant condensing after it',
  drierReversed: 'the drier outlet reads warmer than its inlet',
  supplyAboveReturn: 'the supply air reads warmer than the return air',
  supplyBelowEvaporating: 'the supply air reads colder than the evaporating temperature',
  linesSwapped:
    'the suction line reads hotter than the liquid line, and each makes sense only as the other: the two clamps are probably swapped',
};

function contradictionText(what: Impossible, mode: Mode): string {
  if (what !== 'hosesSwapped') return CONTRADICTION[what];
  // In heating the wide line carries hot gas, and a gauge left on it from cooling reads the high side.
  const otherwise = mode === 'heating' ? ', or the low-side gauge is on the wide line' : '';
  return `the suction pressure reads above the high-side pressure: the hoses, or the sensors assigned to them, are probably exchanged${otherwise}`;
}

/** One piece of evidence in plain words, without its bearing. */
export function evidenceText(item: EvidenceItem, mode: Mode, style: UnitStyle): string {
  switch (item.kind) {
    case 'residual':
      return residualText(item, mode, style);
    case 'difference':
      return differenceWords(item, mode, style);
    case 'hunting':
      return 'The readings swing steadily about a constant mean';
    case 'belowFreezing':
      return `The coil evaporates at ${temperatureText(item.evaporating, style)}, below freezing`;
    case 'plausible':
      return 'The readings do not contradict each other';
    case 'pattern':
      return `${item.pattern.starts} starts in ${Math.round(item.pattern.span / 60)} minutes, with short runs`;
    case 'stood':
      return stoodText(item.stood, style);
    case 'observation':
      return OBSERVATION_LABEL[item.observation];
    case 'outcome': {
      const row = checkRow(item.check);
      return `${row.label}: ${row.outcomes[item.outcome] ?? item.outcome}`;
    }
    case 'impossible':
      return `By ${differenceText(item.by, style)}, ${contradictionText(item.what, mode)}`;
    case 'movedAlone': {
      const { channel, by } = item.step;
      const clamp = channel === 'liquidLineTemp' ? 'liquid' : 'suction';
      return `The clamp on the ${clamp} line moved by ${differenceText(Math.abs(by), style)} ${by > 0 ? 'up' : 'down'} within a minute while the pressures stood still: it has slipped or come off`;
    }
    default:
      return assertNever(item);
  }
}

/** How a unit stood while it was off: the pressure said as the temperature at which it is saturated. */
function stoodText(stood: StoodStill, style: UnitStyle): string {
  const { probability, saturated, coldest, warmest } = stood;
  const { below, above } = probability;
  const verdict =
    above >= PLAIN
      ? 'too high for that air'
      : below >= PLAIN
        ? 'too low for that air'
        : above + below < 1 - PLAIN
          ? 'as it should be'
          : 'about as it should be';
  const [cold, warm] = [temperatureText(coldest, style), temperatureText(warmest, style)];
  const around = cold === warm ? `air of ${cold}` : `air of ${cold} to ${warm}`;
  return `While it stood still its pressure was that of ${temperatureText(saturated, style)} saturated, in ${around}: ${verdict}`;
}
/** From this probability on the standing pressure is said to be above or below. */
const PLAIN = 0.8;

/** A reading agrees with its expectation up to this share of the uncertainty of their difference. */
const NEAR = 0.4;

function residualText(
  item: EvidenceItem & { kind: 'residual' },
  mode: Mode,
  style: UnitStyle,
): string {
  const label = featureLabel(item.feature, mode);
  const measured = featureText(item.feature, item.measured, style);
  const expected = featureText(item.feature, item.expected, style);
  const amount = (x: number): string =>
    item.feature === 'current' ? `${numberText(x, 1)} A` : differenceText(x, style);
  const side = item.residual > 0 ? 'above' : 'below';
  const given = `${sourceText(item.source, style)} gives ${expected} ± ${amount(item.u)}`;
  const off = amount(Math.abs(item.residual));
  const size = Math.abs(item.residual) / item.u;
  // Its value is a difference already: said as one.
  if (item.feature === 'compressorHeat') {
    const than = `than this compression makes it (${sourceText(item.source, style)} allows ± ${amount(item.u)})`;
    if (size <= NEAR) return `The discharge line is neither hotter nor colder ${than}`;
    return `The discharge line is ${off} ${item.residual > 0 ? 'hotter' : 'colder'} ${than}`;
  }
  if (size <= NEAR) return `${label} ${measured} agrees with what is expected (${given})`;
  return size <= 1
    ? `${label} ${measured} is ${off} ${side} what is expected, within the uncertainty (${given})`
    : `${label} ${measured} is ${off} ${side} what is expected (${given})`;
}

function differenceWords(
  item: EvidenceItem & { kind: 'difference' },
  mode: Mode,
  style: UnitStyle,
): string {
  const label = featureLabel(item.feature, mode);
  const amount = (x: number): string =>
    item.feature === 'current' ? `${numberText(x, 1)} A` : differenceText(x, style);
  const size = `${amount(Math.abs(item.difference))} ± ${amount(item.u)}`;
  if (Math.abs(item.difference) <= item.u) {
    return `${label} does not clearly differ from ${item.other} (${size})`;
  }
  return `${label} is ${size} ${item.difference > 0 ? 'above' : 'below'} that of ${item.other}`;
}

/** Evidence of at least this weight (ln of the ratio) carries a judgement; at most so many a side. */
const CARRIES = 0.5;
const AT_MOST = 4;

/** What carries weight for and against a suspect, strongest first, and how many pieces say little. */
export function weighty(suspect: Pick<Suspect, 'for' | 'against'>): {
  readonly for: readonly Weighed[];
  readonly against: readonly Weighed[];
  readonly folded: number;
} {
  const carrying = (side: readonly Weighed[]): readonly Weighed[] =>
    side.filter(({ weight }) => Math.abs(weight) >= CARRIES).slice(0, AT_MOST);
  const [pro, contra] = [carrying(suspect.for), carrying(suspect.against)];
  const folded = suspect.for.length + suspect.against.length - pro.length - contra.length;
  return { for: pro, against: contra, folded };
}

/** What is left out of {@link weighty}, in words; null where nothing is. */
export function foldedText(folded: number): string | null {
  if (folded === 0) return null;
  return folded === 1 ? 'One more sign says little.' : `${folded} more signs say little.`;
}

/** A weighed piece with its bearing: `speaks strongly for it`. */
export function weighedText(weighed: Weighed, mode: Mode, style: UnitStyle): string {
  const size = Math.abs(weighed.weight);
  const strength = size > 2.5 ? 'strongly ' : size > 1 ? '' : 'a little ';
  const side = weighed.weight > 0 ? 'for' : 'against';
  return `${evidenceText(weighed.item, mode, style)}: speaks ${strength}${side} it.`;
}
