import type { Mode } from '../../core/circuit/types.ts';
import type { StateSpan } from '../../core/engine-types.ts';
import { reasonFormat, reasonText } from '../../core/steadiness/reason-text.ts';
import type { SteadinessState } from '../../core/steadiness/types.ts';

/** States in which nothing speaks against what was judged. */
const UNREMARKABLE: ReadonlySet<SteadinessState> = new Set<SteadinessState>(['settled', 'hunting']);

/**
 * What came after the readings that are judged and is not in the judgement: a fan that failed, a stop.
 * Each state once, with the reason of its first time.
 *
 * @param judgedTo where the judged readings end, s
 * @returns one text; null where the unit stayed as it was judged
 */
export function afterJudged(
  spans: readonly StateSpan[],
  judgedTo: number,
  mode: Mode,
): string | null {
  const format = reasonFormat('us', mode);
  const told = new Set<SteadinessState>();
  const parts: string[] = [];
  for (const { state, from, reason } of spans) {
    if (from < judgedTo || UNREMARKABLE.has(state) || told.has(state)) continue;
    told.add(state);
    parts.push(`At ${Math.round(from)} s: ${reasonText(reason, format)}`);
  }
  if (parts.length === 0) return null;
  return `This is of the readings up to ${Math.round(judgedTo)} s and does not hold for what came after. ${parts.join(' ')}`;
}
