import { meanAtRest } from './steadiness/rest.ts';
import { FIGURE_KEYS } from './circuit/figures.ts';
import type { FigureKey, Reading } from './circuit/types.ts';
import type { AverageOf } from './circuit/content.ts';
import type { SnapshotContent, StateSpan } from './engine-types.ts';
import type { QuantityKey, Reason, SteadinessGlance, SteadinessView } from './steadiness/types.ts';
import { createSpanAverage, type SpanAverage } from './stream/span-average.ts';

/** Spans kept; the oldest go first. A day of short cycling stays inside. */
const MAX_SPANS = 5000;
/** A confidence below this is a doubt: it may end a settled span, and does not speak for it. */
const SURE = 0.9;
/**
 * A span of which fewer blocks can be counted is told by what was read when it was declared: of two
 * means Student's t says hardly anything of their scatter, of one nothing.
 */
const LEAST_BLOCKS = 4;

type Window = { readonly from: number; readonly to: number };
type MakeContent = (
  averageOf: AverageOf,
  window: Window,
  seen: SteadinessGlance,
) => SnapshotContent;

export interface SpanLog {
  /** Takes the state after the frame that ends at t and lasted dt, s. */
  push(t: number, dt: number, seen: SteadinessGlance, columns: Float64Array): void;
  finish(t: number | null): void;
  spans(): readonly StateSpan[];
}

interface Held {
  seconds: number;
  reason: Reason;
}

interface OpenSpan {
  readonly from: number;
  view: SteadinessGlance;
  /** How long each kind of reason held, s, with its first wording; in order of appearance. */
  readonly held: Held[];
  /** What a settled span is told by: the latest reason before the doubts that ended it. */
  stillness: Reason;
  /** Time of the latest frame, s. */
  latest: number;
  /** Averages of a settled span, or of a hunting one over whole periods. */
  readonly average: SpanAverage | null;
  /** What was read when it was declared: stands in for a span too short to average, and says so. */
  readonly declared: SnapshotContent | null;
}

/**
 * Keeps the stretches of time in one state, and for each settled or hunting one that ended a
 * snapshot averaged over all of it.
 */
export function createSpanLog(
  columns: number,
  content: MakeContent,
  overHistory: (window: Window) => AverageOf,
  present: () => SteadinessView,
): SpanLog {
  const closed: StateSpan[] = [];
  let open: OpenSpan | null = null;

  const begin = (from: number, view: SteadinessGlance): OpenSpan => {
    const still = meanAtRest(view);
    const window = still ? present().window : null;
    const declared = window === null ? null : content(overHistory(window), window, view);
    const period = view.reason.code === 'swinging' ? view.reason.period : 0;
    const average = still ? createSpanAverage(from, columns, period) : null;
    const stillness = view.reason;
    return { from, view, held: [], stillness, latest: from, average, declared };
  };

  const close = (span: OpenSpan, to: number): void => {
    // What the very next frame took back lasted no time.
    if (to <= span.from) return;
    const { average } = span;
    const end = Math.min(average?.to() ?? -Infinity, to);
    const snapshot =
      average !== null && average.blocks() >= LEAST_BLOCKS
        ? content((c) => average.average(c), { from: span.from, to: end }, span.view)
        : readBefore(span);
    closed.push({
      state: span.view.state,
      from: span.from,
      to,
      reason: reasonOf(span),
      snapshot,
    });
    if (closed.length > MAX_SPANS) closed.shift();
  };

  return {
    push(t, dt, view, values) {
      if (open === null || view.state !== open.view.state) {
        const from = open === null ? t - dt : Math.max(open.from, Math.min(view.since, t));
        if (open !== null) close(open, from);
        open = begin(from, view);
      } else if (meanAtRest(view) !== meanAtRest(open.view)) {
        // The mean of a swing came to rest or left it: no average holds both.
        const from = Math.max(open.from, t - dt);
        close(open, from);
        open = begin(from, view);
      }
      const { declaredAt } = open.view;
      open.view = view;
      hold(open, t);
      open.average?.push(t, values);
      if (view.state !== 'settled' || view.declaredAt === declaredAt) return;
      // Still as before, about another average: a new span, so that no average holds both.
      open.average?.release();
      close(open, t);
      open = begin(t, view);
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
              reason: reasonOf(open),
              snapshot: null,
            },
          ],
  };
}

/** The readings at the declaration, marked where their window began before the span. */
function readBefore({ declared, from }: OpenSpan): SnapshotContent | null {
  if (declared === null || declared.window.from >= from) return declared;
  const marked = <R extends Reading>(reading: R): R => ({
    ...reading,
    marks: [...reading.marks, 'beforeSpan'],
  });
  const figures: Partial<Record<FigureKey, Reading>> = {};
  for (const key of FIGURE_KEYS) {
    const reading = declared.figures[key];
    if (reading !== undefined) figures[key] = marked(reading);
  }
  return { ...declared, figures, channels: declared.channels.map(marked) };
}

/** What tells one kind of reason from another is its code and the quantity it speaks of. */
function isAlike(a: Reason, b: Reason): boolean {
  return a.code === b.code && quantityOf(a) === quantityOf(b);
}

function quantityOf(reason: Reason): QuantityKey | null {
  return 'quantity' in reason ? reason.quantity : null;
}

/** Counts the time since the last frame for the present reason. */
function hold(span: OpenSpan, t: number): void {
  const { reason } = span.view;
  if (sureness(reason) >= Math.min(SURE, sureness(span.stillness))) span.stillness = reason;
  const seconds = Math.max(0, t - span.latest);
  span.latest = Math.max(span.latest, t);
  for (const known of span.held) {
    if (!isAlike(known.reason, reason)) continue;
    known.seconds += seconds;
    // Of a swing the latest amplitude and period are the best known.
    if (reason.code === 'swinging') known.reason = reason;
    return;
  }
  span.held.push({ seconds, reason });
}

function sureness(reason: Reason): number {
  return reason.code === 'still' ? reason.confidence : 0;
}

/**
 * What a span is told by: a disturbance by what began it, stillness by the confidence it had before
 * it ended, and every other state by the reason that held longest.
 */
function reasonOf(span: OpenSpan): Reason {
  if (span.view.state === 'settled') return span.stillness;
  const { held } = span;
  const [first] = held;
  if (first === undefined) return span.view.reason;
  if (span.view.state === 'disturbed') return first.reason;
  return held.reduce((most, next) => (next.seconds > most.seconds ? next : most), first).reason;
}
