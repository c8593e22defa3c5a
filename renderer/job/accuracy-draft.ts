import type { Accuracy } from '../../core/circuit/types.ts';
import type { ChannelKey } from '../../core/stream/channels.ts';
import { fieldText, typedNumber } from '../app/numbers.ts';
import { channelDifferenceUnit, channelNumber, type UnitSystem } from '../app/format.ts';

/** How the accuracy of one sensor is typed: one of the ways makers state it. */
export const ACCURACY_KINDS = ['assumed', 'absolute', 'ofReading', 'ofFullScale', 'other'] as const;
export type AccuracyKind = (typeof ACCURACY_KINDS)[number];

export const ACCURACY_TEXT: Record<AccuracyKind, string> = {
  assumed: 'not stated (assumed)',
  absolute: '± fixed',
  ofReading: '± % of reading',
  ofFullScale: '± % of full scale',
  other: 'several parts (as imported)',
};

/** Texts of the fields. */
export interface AccuracyDraft {
  readonly kind: AccuracyKind;
  readonly amount: string;
  readonly fullScale: string;
  /** Kept as it is where it has more parts than the form shows. */
  readonly kept: Accuracy | null;
}

/** SI per unit shown of a difference on this channel. */
function perShown(key: ChannelKey, system: UnitSystem): number {
  return 1 / (channelNumber(key, 1, system, 0) - channelNumber(key, 0, system, 0));
}

/** The unit in which a fixed half-width and a full scale are typed. */
export function accuracyUnit(key: ChannelKey, system: UnitSystem): string {
  return channelDifferenceUnit(key, system);
}

/** The fields of a stored accuracy. */
export function accuracyDraft(
  key: ChannelKey,
  accuracy: Accuracy | undefined,
  system: UnitSystem,
): AccuracyDraft {
  const empty = { kind: 'assumed', amount: '', fullScale: '', kept: null } as const;
  if (accuracy === undefined) return empty;
  const { absolute, ofReading, ofFullScale } = accuracy;
  const parts = [absolute, ofReading, ofFullScale].filter((part) => part !== undefined);
  if (parts.length !== 1) return { ...empty, kind: 'other', kept: accuracy };
  const si = perShown(key, system);
  if (absolute !== undefined) {
    return { ...empty, kind: 'absolute', amount: fieldText(absolute / si, 4) };
  }
  if (ofReading !== undefined) {
    return { ...empty, kind: 'ofReading', amount: fieldText(ofReading * 100, 3) };
  }
  return {
    ...empty,
    kind: 'ofFullScale',
    amount: fieldText((ofFullScale?.fraction ?? 0) * 100, 3),
    fullScale: fieldText((ofFullScale?.fullScale ?? 0) / si, 2),
  };
}

/** The accuracy typed, undefined where none is stated, or what is wrong with it. */
export function accuracyOf(
  key: ChannelKey,
  draft: AccuracyDraft,
  system: UnitSystem,
): { readonly accuracy: Accuracy | undefined } | { readonly error: string } {
  if (draft.kind === 'assumed') return { accuracy: undefined };
  if (draft.kind === 'other') return { accuracy: draft.kept ?? undefined };
  const amount = typedNumber(draft.amount);
  if (amount === null || !(amount >= 0)) return { error: 'a number, zero or more' };
  const si = perShown(key, system);
  if (draft.kind === 'absolute') return { accuracy: { absolute: amount * si } };
  if (amount > 100) return { error: 'at most 100 %' };
  if (draft.kind === 'ofReading') return { accuracy: { ofReading: amount / 100 } };
  const fullScale = typedNumber(draft.fullScale);
  if (fullScale === null || !(fullScale > 0)) return { error: 'the full scale, above zero' };
  return { accuracy: { ofFullScale: { fraction: amount / 100, fullScale: fullScale * si } } };
}
