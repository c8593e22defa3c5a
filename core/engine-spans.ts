import type { AverageOf } from './circuit/content.ts';
import type { SnapshotContent, StateSpan } from './engine-types.ts';
import type { SteadinessView } from './steadiness/types.ts';
import { createSpanAverage, type SpanAverage } from './stream/span-average.ts';

/** Spans kept; the oldest go first. A day of short cycling stays inside. */
const MAX_SPANS = 5000;

type Window = { readonly from: number; readonly to: number };
type MakeContent = (averageOf: AverageOf, window: Window, view: SteadinessView) => SnapshotContent;

export interface SpanLog {
  push(t: number, view: SteadinessView, columns: Float64Array): void;
  finish(t: number | null): void;
  spans(): readonly StateSpan[];
}

interface OpenSpan {
  readonly from: number;
  view: SteadinessView;
  /** Averages of a settled span. */
  readonly average: SpanAverage | null;
  /** What was read when it was declared settled: stands in for a span too short to average. */
  readonly declared: SnapshotContent | null;
}

/**
 * Keeps the stretches of time in one state, and for each settled one that ended a snapshot
 * averaged over all of it.
 */
export function createSpanLog(
  columns: number,
  content: MakeContent,
  overHistory: (window: Window) => AverageOf,
): SpanLog {
  const closed: StateSpan[] = [];
  let open: OpenSpan | null = null;

  const begin = (from: number, view: SteadinessView): OpenSpan => {
    const settled = view.state === 'settled';
    const declared =
      settled && view.window !== null ? content(overHistory(view.window), view.window, view) : null;
    return { from, view, average: settled ? createSpanAverage(from, columns) : null, declared };
  };

  const close = (span: OpenSpan, to: number): void => {
    const { average } = span;
    const end = average?.to() ?? null;
    const snapshot =
      average !== null && end !== null
        ? content((c) => average.average(c), { from: span.from, to: end }, span.view)
        : span.declared;
    closed.push({
      state: span.view.state,
      from: span.from,
      to,
      reason: span.view.reason,
      snapshot,
    });
    if (closed.length > MAX_SPANS) closed.shift();
  };

  return {
    push(t, view, values) {
      if (open === null || view.state !== open.view.state) {
        const from = Math.max(open?.from ?? 0, Math.min(view.since, t));
        if (open !== null) close(open, from);
        open = begin(from, view);
      } else if (view.state !== 'disturbed') {
        // A disturbance is told by what began it; every other state by its latest reason.
        open.view = view;
      }
      open.average?.push(t, values);
    },
    finish(t) {
      if (open === null || t === null) return;
      open.average?.release();
      close(open, Math.max(t, open.from));
      open = null;
    },
    spans: () =>
      open === null
        ? closed
        : [
            ...closed,
            {
              state: open.view.state,
              from: open.from,
              to: null,
              reason: open.view.reason,
              snapshot: null,
            },
          ],
  };
}
