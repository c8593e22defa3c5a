import type { Evidence, EvidenceItem } from './evidence.ts';
import type { SuspectKey } from './suspects.ts';
import type { JudgementInput, VerdictRow } from './types.ts';

/** A suspect with what speaks for it; the weight is ln of the likelihood ratio. */
interface Accused {
  readonly key: SuspectKey;
  readonly probability: number;
  readonly for: readonly { readonly item: EvidenceItem; readonly weight: number }[];
}

/** The quantity that speaks of the charge: superheat behind an orifice, subcooling with a valve. */
export function chargeQuantity({ config }: JudgementInput): 'superheat' | 'subcooling' {
  return config.metering === 'fixed' ? 'superheat' : 'subcooling';
}

/** A charge this likely is named whatever the one reading says. */
const SURE = 0.9;
/** From this weight on (ln of the likelihood ratio) something other than the readings shows the charge. */
const SHOWS = 1;

/** Whether readings against general rules are all that accuses it, in cooling. */
function isByReadingsAlone(accused: Accused, { config, baseline, twin }: JudgementInput): boolean {
  if (config.mode !== 'cooling' || baseline !== null || twin !== null) return false;
  return !accused.for.some(({ item, weight }) => item.kind !== 'residual' && weight > SHOWS);
}

/**
 * The reading that leaves an accused charge open: what the trade decides the charge by lies within its
 * target, or is not outside it by more than the uncertainty of the two. The others may all lean that
 * way, but whoever then adds or recovers refrigerant does so against the very reading that tells
 * when to stop. Only in cooling, where there is such a target, and only where the unit is known by general
 * rules: its healthy visit, or a like unit beside it, says more than the target.
 *
 * @returns null where the charge is not accused, or where the accusation stands
 */
export function leavesChargeOpen(
  accused: Accused | undefined,
  input: JudgementInput,
  verdicts: readonly VerdictRow[],
): 'superheat' | 'subcooling' | null {
  if (accused === undefined || accused.probability >= SURE) return null;
  if (accused.key !== 'lowCharge' && accused.key !== 'overcharge') return null;
  if (!isByReadingsAlone(accused, input)) return null;
  const quantity = chargeQuantity(input);
  const row = verdicts.find((verdict) => verdict.quantity === quantity);
  const tells = row === undefined || row.verdict === 'above' || row.verdict === 'below';
  return tells ? null : quantity;
}

/** So many standard uncertainties above what is expected evaporating is no longer that of a short charge. */
const NOT_SHORT = 1.5;

/**
 * Whether an accused shortage is contradicted by evaporating that stands above what is expected: too little
 * refrigerant lowers it, or a valve still holds it; a pump that leaks, or hot gas that passes the reversing
 * valve, raises it, and both take subcooling as a shortage does. Only in cooling and by general rules, and
 * only where the readings alone accuse: a search that found the leak says more.
 */
export function isUnlikeShortage(
  accused: Accused | undefined,
  input: JudgementInput,
  pieces: readonly Evidence[],
): boolean {
  if (accused?.key !== 'lowCharge' || !isByReadingsAlone(accused, input)) return false;
  return pieces.some(
    ({ item }) =>
      item.kind === 'residual' &&
      item.feature === 'evaporating' &&
      item.residual > (NOT_SHORT * item.u) / 2,
  );
}
