import type { StateSpan } from '../engine-types.ts';
import type { RunPattern } from '../diagnosis/types.ts';

/** How the compressor started and stopped, from the spans of a session. */
export function runPattern(spans: readonly StateSpan[]): RunPattern | null {
  const [first] = spans;
  const last = spans.at(-1);
  if (first === undefined || last === undefined) return null;
  const runs: { from: number; to: number | null }[] = [];
  let starts = 0;
  let running: boolean | null = null;
  for (const span of spans) {
    const now = ranIn(span);
    if (now === null) continue;
    if (now && running !== true) {
      if (running === false) starts += 1;
      runs.push({ from: span.from, to: null });
    }
    if (!now && running === true) {
      const run = runs.at(-1);
      if (run !== undefined) run.to = span.from;
    }
    running = now;
  }
  // The first run of a recording that begins while running is of unknown length.
  const finished = runs
    .slice(first.state === 'idle' ? 0 : 1)
    .flatMap((run) => (run.to === null ? [] : [run.to - run.from]))
    .sort((a, b) => a - b);
  return {
    starts,
    medianRun: finished[Math.floor(finished.length / 2)] ?? null,
    span: (last.to ?? last.from) - first.from,
  };
}

/** Whether the unit ran in a span; null where the state does not tell. */
function ranIn(span: StateSpan): boolean | null {
  if (span.state === 'idle') return span.reason.code === 'noData' ? null : false;
  return span.state === 'blind' ? null : true;
}

/**
 * Seconds since the compressor started, at the end of a span; null where its start was not seen.
 */
export function runTimeAt(spans: readonly StateSpan[], span: StateSpan): number | null {
  const at = spans.findIndex((s) => s.from === span.from && s.state === span.state);
  for (let i = at - 1; i >= 0; i -= 1) {
    const earlier = spans[i];
    if (earlier === undefined || ranIn(earlier) === null) return null;
    if (ranIn(earlier) === false) {
      const started = spans[i + 1]?.from ?? span.from;
      return (span.to ?? span.from) - started;
    }
  }
  return null;
}
