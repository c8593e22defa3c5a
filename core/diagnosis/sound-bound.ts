import { fahrenheitFromKelvin } from '../units/temperature.ts';
import { kelvin } from '../units/brands.ts';
import { freshChannel } from './conditions.ts';
import { TARGET_SPLIT_RA32 } from './data/target-split-ra32.ts';
import type { Evidence, EvidenceItem } from './evidence.ts';
import { bySuspect, SUSPECT_KEYS, type BySuspect, type SuspectKey } from './suspects.ts';
import type { JudgementInput, VerdictRow } from './types.ts';

/** "Nothing wrong" is an answer only where the readings lie within their limits this surely. */
export const SURE_WITHIN = 0.7;
/** Below this a reading is outside its limits for certain: k = 2. */
export const DECIDED = 0.025;

/**
 * How likely "nothing wrong" can be at most: a unit whose superheat or subcooling lies outside the
 * limits of its target has something wrong, so it cannot be likelier than that both lie within. Of
 * the air temperature drop only the side it leans to counts: few instruments decide it. Where the
 * unit's own healthy visit is known, that explains a reading off its target; a like unit may be off too.
 */
export function boundOfSound(verdicts: readonly VerdictRow[], input: JudgementInput): number {
  if (input.baseline !== null) return 1;
  return verdicts.reduce((bound, { quantity, probability }) => {
    const { below, within, above } = probability;
    return Math.min(bound, quantity === 'airDrop' ? 1 - Math.max(below, above) : within);
  }, 1);
}

/** These show in no figure, but in how the unit runs. */
const IN_HOW_IT_RUNS: readonly SuspectKey[] = ['shortCycling', 'valveHunting'];

/**
 * A belief in which "nothing wrong" is no likelier than the bound. What it gives up goes to what can carry
 * a figure off its target, in their ratios: figures as in a sound unit say nothing for what shows in none.
 */
export function bounded(belief: BySuspect, bound: number): BySuspect {
  const given = belief.nothingWrong - bound;
  const takes = (key: SuspectKey): boolean =>
    key !== 'nothingWrong' && !IN_HOW_IT_RUNS.includes(key);
  const taken = SUSPECT_KEYS.reduce((sum, key) => sum + (takes(key) ? belief[key] : 0), 0);
  if (given <= 0 || taken === 0) return belief;
  return bySuspect((key) => {
    if (key === 'nothingWrong') return bound;
    return takes(key) ? belief[key] * (1 + given / taken) : belief[key];
  });
}

/**
 * Whether what is known of the unit is narrow enough to call it sound. In heating the general rules
 * are so wide that only gross faults show: there it takes its own healthy visit, its like beside it or
 * the maker's heating chart. A unit that swings is not at rest enough to be called sound, nor is one whose
 * liquid may hold bubbles before the metering device. In cooling nobody knows without the outdoor air whether the
 * coil out there gets rid of its heat: pressures and pipes alone look the same on a hot day and behind a fouled coil.
 *
 * @param compared whether it was held against a like unit
 */
export function canBeCalledSound(input: JudgementInput, compared: boolean): boolean {
  if (input.content.state === 'hunting') return false;
  if (input.baseline === null && !isLiquidProven(input)) return false;
  const { baseline, maker, config, content } = input;
  if (config.mode !== 'heating' && freshChannel(content, 'outdoorAirTemp') !== null) return true;
  return compared || baseline !== null || Object.keys(maker).some((key) => key !== 'at');
}

/**
 * Whether what comes to the metering device is liquid beyond the doubt of the instruments: its subcooling is
 * above zero by more than its uncertainty. Bubbles there starve a coil, of which superheat and air may tell
 * nothing yet. Where subcooling is not measured, nothing speaks against it.
 */
function isLiquidProven({ content }: JudgementInput): boolean {
  const { subcooling } = content.figures;
  return subcooling === undefined || subcooling.value > subcooling.u;
}

/**
 * Whether in cooling the air that returns is warmer than the published table of temperature drops goes (84 °F
 * in RA3.2). Either the unit has just come on in a hot house, or it does not keep up with it, as one whose
 * compressor pumps too little: its pressures and pipes read alike. Its own healthy visit, which is
 * corrected for the conditions, does not tell either of a house that it never saw so warm.
 */
export function returnsTooWarm({ config, content }: JudgementInput): boolean {
  if (config.mode === 'heating') return false;
  const returnAir = freshChannel(content, 'returnAirTemp');
  const warmest = TARGET_SPLIT_RA32.rows.at(-1) ?? Infinity;
  return returnAir !== null && fahrenheitFromKelvin(kelvin(returnAir.value)) > warmest;
}

/** All whose figures may be those of a sound unit. */
const IN_NO_FIGURE: readonly SuspectKey[] = ['nothingWrong', 'cannotTell', ...IN_HOW_IT_RUNS];

/**
 * A fault explains a reading nearly as well as soundness does from this ratio of their likelihoods on. No
 * sound unit of the tuning half of the bench comes to it, with pressures and pipe clamps alone either; of the
 * sound ones of a cycle of CoolProp that knows nothing of its plant one in twelve does, and of those whose
 * compressor or reversing valve leaks by pressures and pipes every other one.
 */
const AS_WELL = 0.6;

/**
 * The fault for which the evidence speaks most, where it speaks for it nearly as much as for soundness; null
 * where for none. How seldom a fault is makes it unlikely, but does not make a reading that fits it a sign of
 * health.
 */
export function fittingFault(prior: BySuspect, posterior: BySuspect): SuspectKey | null {
  const speaks = (key: SuspectKey): number => posterior[key] / prior[key];
  let least = AS_WELL * speaks('nothingWrong');
  let fitting: SuspectKey | null = null;
  for (const key of SUSPECT_KEYS) {
    if (IN_NO_FIGURE.includes(key) || prior[key] === 0 || speaks(key) < least) continue;
    least = speaks(key);
    fitting = key;
  }
  return fitting;
}

/**
 * So many standard deviations off, one figure alone keeps a unit from being called sound. A general rule
 * is wide on purpose: beyond its whole width (k = 2) no maker's sound unit stands.
 */
const STANDS_OUT = 2.5;
const BEYOND_A_RULE = 2;

/**
 * Whether one figure stands so far from what is expected that the others' agreeing cannot outvote it:
 * many faults move one figure and leave the rest alone.
 */
export function oneStandsOut(pieces: readonly Evidence[]): boolean {
  return pieces.some(({ item }) => item.kind === 'residual' && standsOut(item));
}

/** Whether this figure alone stands so far off ({@link oneStandsOut}). */
export function standsOut(item: EvidenceItem & { kind: 'residual' }): boolean {
  const far = item.source === 'rule' || item.source === 'dash' ? BEYOND_A_RULE : STANDS_OUT;
  return Math.abs(item.residual) > (far * item.u) / 2;
}
