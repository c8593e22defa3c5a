import type { Mode } from '../circuit/types.ts';
import { assertNever } from '../result.ts';
import { barrierText } from './barrier-text.ts';
import type { Diagnosis, LeftOpen, Suspect } from './diagnose.ts';
import { featureLabel } from './evidence-text.ts';
import { percentText } from './format.ts';
import { HAZARD_LABEL } from './hazard-text.ts';
import type { Hazard } from './hazards.ts';
import { standsOut } from './sound-bound.ts';
import type { Refusal } from './types.ts';
import { SUSPECT_LABEL } from './words.ts';

/** What a diagnosis comes to, for the head of a screen and one line beneath it. */
export interface AnswerText {
  readonly title: string;
  readonly line: string;
  /** Whether the next check waits until what stands in the way is lifted. */
  readonly checkLater: boolean;
}

/** What stands in the way of judging the charge, or anything. */
function barriers(refusals: readonly Refusal[]): 'all' | 'charge' | null {
  if (refusals.some((refusal) => refusal.blocks === 'all')) return 'all';
  return refusals.some((refusal) => refusal.blocks === 'charge') ? 'charge' : null;
}

/** Two faults are named together where the second is so near the first, and they hold so much. */
const NEAR = 0.5;
const TOGETHER = 0.6;

/** The two faults it is one of; null where one stands out or more than two are open. */
function oneOfTwo(
  { answer, suspects, open }: Diagnosis,
  mode: Mode | null,
): readonly [Suspect, Suspect] | null {
  // In heating a fault that nothing shows is not named, and two such are not either; nor a charge left open.
  if (answer === 'cannotTell' && (mode === 'heating' || open !== null)) return null;
  const [first, second] = suspects;
  if (first === undefined || second === undefined) return null;
  const faults = ![first, second].some(({ key }) => key === 'nothingWrong' || key === 'cannotTell');
  // Ice is what little air makes of a coil, indoors or outdoors: not two causes.
  const keys = [first.key, second.key];
  const kin =
    keys.includes('icedCoil') &&
    (keys.includes('lowIndoorAir') || keys.includes('fouledOutdoorCoil'));
  if (!faults || kin || second.probability < NEAR * first.probability) return null;
  return first.probability + second.probability >= TOGETHER ? [first, second] : null;
}

function oddsOf({ key, probability }: Suspect): string {
  return `${SUSPECT_LABEL[key]} (${percentText(probability)})`;
}

/** Said where no check known here would tell more: a likely cause is not a found one. */
const CONFIRM =
  ' No check listed here would tell more: confirm it as the maker says before the circuit is opened.';

/** Said where the check asked only confirms what the readings show. */
const CONFIRM_FIRST =
  ' The readings leave little doubt: the next check only confirms it, before the circuit is opened.';

/** How likely the first is, and what comes next to it. */
function oddsText(first: Suspect, second: Suspect | undefined): string {
  const odds = `By all that is known ${percentText(first.probability)} likely`;
  return second === undefined ? `${odds}.` : `${odds}; second: ${oddsOf(second)}.`;
}

/** How likely the first suspect is, and what follows from it where no check is left. */
function suspectText({ suspects, nextCheck }: Diagnosis, first: Suspect): string {
  const odds = oddsText(first, suspects[1]);
  if (nextCheck === null) return `${odds}${CONFIRM}`;
  return nextCheck.confirms === true ? `${odds}${CONFIRM_FIRST}` : odds;
}

/** The figure that alone keeps a unit from being called sound; null where none does. */
function oddFigure(diagnosis: Diagnosis, mode: Mode): string | null {
  const sound = diagnosis.suspects.find(({ key }) => key === 'nothingWrong');
  for (const { item } of sound?.against ?? []) {
    if (item.kind === 'residual' && standsOut(item)) return featureLabel(item.feature, mode);
  }
  return null;
}

/** Why it is left open although one leads. */
function leftOpenText(open: LeftOpen, first: Suspect): string {
  switch (open.code) {
    case 'CHARGE_UNDECIDED':
      return `${oddsOf(first)} is ahead, but ${open.quantity}, by which the charge is told, does not differ from its target by more than its own uncertainty: leave the charge alone. The next check tells more.`;
    case 'UNLIKE_SHORTAGE':
      return `${oddsOf(first)} is ahead, but evaporating is higher than a shortage makes it: a compressor that pumps too little, or a reversing valve that leaks, takes subcooling as well. Leave the charge alone until the next check has told.`;
    case 'WARM_RETURN':
      return `It reads as a sound unit (${percentText(first.probability)}), but the air that returns to it is warmer than the published tables go: whether it keeps up with the house cannot be told. The next check tells more; or judge it anew when the rooms have cooled.`;
    case 'CHANGED_AFTER':
      return `It read as a sound unit (${percentText(first.probability)}), but then something changed: that comes first. Let it come to rest again and judge it anew.`;
    default:
      return assertNever(open);
  }
}

/** The hazard beside which what reads as a sound unit is not called one; empty where none is. */
function besideText({ key }: Suspect, hazards: readonly Hazard[] | undefined): string {
  const hazard = hazards?.[0];
  if (key !== 'nothingWrong' || hazard === undefined) return '';
  return `It is not called sound beside this: ${HAZARD_LABEL[hazard.code]}. `;
}

/** Why it cannot be told, and that the next check tells more. */
function openText(diagnosis: Diagnosis, first: Suspect, mode: Mode | null): string {
  if (diagnosis.open !== null) return leftOpenText(diagnosis.open, first);
  const odd = mode === null ? null : oddFigure(diagnosis, mode);
  const rival = diagnosis.suspects.find(
    ({ key }) => key !== 'nothingWrong' && key !== 'cannotTell',
  );
  const seen =
    odd !== null
      ? `one figure stands out: ${odd}`
      : diagnosis.fits !== null
        ? `it would look nearly the same with this: ${SUSPECT_LABEL[diagnosis.fits]}`
        : rival === undefined
          ? 'see what speaks against that'
          : `${oddsOf(rival)} is not ruled out`;
  return first.key === 'nothingWrong'
    ? `Most of it fits a sound unit, but not all: ${seen}. The next check tells more.`
    : `No cause is clearly ahead of the others${odd === null ? '' : `; ${seen}`}. The next check parts them.`;
}

/**
 * The answer in words. Where the readings may not be read, what lifts that comes before any check;
 * where nothing is wrong, no check is pressed upon anybody.
 *
 * @param mode in which figures are named; without it the line names none
 * @param hazards beside which a unit is not called sound; the first is named where it otherwise reads as one
 */
export function answerText(
  diagnosis: Diagnosis,
  refusals: readonly Refusal[],
  mode: Mode | null = null,
  hazards?: readonly Hazard[],
): AnswerText {
  const { answer, suspects } = diagnosis;
  const [first] = suspects;
  const barrier = barriers(refusals);
  const unread =
    barrier === 'all'
      ? `The readings themselves do not count yet. ${barrierText(refusals, 'all')}`
      : '';
  // In heating the charge is not judged by general rules anyhow: that keeps no check waiting.
  const waits = barrier === 'all' || (barrier === 'charge' && mode !== 'heating');
  if (first === undefined) {
    return {
      title: 'Nothing can be told yet',
      line: `${unread} Nothing else that is known speaks of a cause.`.trim(),
      checkLater: true,
    };
  }
  const pair = barrier === 'all' ? null : oneOfTwo(diagnosis, mode);
  if (pair !== null) {
    const [a, b] = pair.map(({ key }) => SUSPECT_LABEL[key]);
    const line = 'These two look alike in these readings: the next check parts them.';
    return { title: `One of two: ${a}; or ${b}`, line, checkLater: false };
  }
  if (answer === 'suspect') {
    const line =
      barrier === 'all'
        ? `From what was seen and from how it ran. ${unread}`
        : suspectText(diagnosis, first);
    return { title: `First suspect: ${SUSPECT_LABEL[first.key]}`, line, checkLater: false };
  }
  if (answer === 'nothingWrong') {
    return {
      title: 'Nothing clearly wrong',
      line:
        barrier === null
          ? `${oddsText(first, undefined)} No check is asked for.`
          : `${oddsText(first, undefined)} No check is asked for. The charge is not judged. ${barrierText(refusals, 'charge')}`,
      checkLater: true,
    };
  }
  const open = openText(diagnosis, first, mode);
  const beside = besideText(first, hazards);
  const line =
    !waits || diagnosis.open?.code === 'CHANGED_AFTER'
      ? beside + open
      : unread ||
        `${beside}The charge is not judged yet, and it may decide this too. ${barrierText(refusals, 'charge')}`;
  return { title: 'It cannot be told yet', line, checkLater: waits };
}
