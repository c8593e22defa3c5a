import { runPattern } from '../../core/checks/run-pattern.ts';
import type { RunPattern } from '../../core/diagnosis/types.ts';
import type { Engine, StateSpan } from '../../core/engine-types.ts';

/**
 * How the compressor started and stopped from the first sample until now. The span that lasts is
 * counted up to the latest sample, as a log that ended there would count it.
 *
 * @returns null before the first frame
 */
export function runSoFar(engine: Engine, t: number | null): RunPattern | null {
  const spans = engine.spans();
  const open = spans.at(-1);
  if (open === undefined || t === null) return null;
  const closed: StateSpan = { ...open, to: open.to ?? Math.max(open.from, t) };
  return runPattern([...spans.slice(0, -1), closed]);
}
