/** Holds what a method said of a session against what was true. */
import type { Frame, QuantitySpec } from '../../../core/steadiness/types.ts';
import type { Method, Verdict } from './method.ts';
import { SUBCOOLING, SUPERHEAT, type Truth } from './session.ts';
import { episodesOf, HORIZON_S, TOLERANCES, TrueMeans, type Episode } from './truth.ts';

/** A declared average further from the true mean of the next minutes than this is false, K. */
const FALSE_BEYOND = 5 / 9;
/** A declaration with less than this left of its episode is not held against anything, s. */
const BRIEF_S = 60;
/** Rest that is not called within this, s, is missed. */
const MISSED_AFTER = 900;
/** Seconds within which a sudden change shows. */
const SUDDEN_S = 10;
/** An event counts as noticed within this, s. */
const NOTICED_WITHIN = 60;

/** Sums over sessions. */
export interface Score {
  sessions: number;
  /** Declarations that could be held against five minutes without an event; and the false ones. */
  declarations: number;
  wrong: number;
  wrongIn: string[];
  /** Declarations less than five minutes, but at least one, before a stop; and the false ones. */
  brief: number;
  briefWrong: number;
  /** Errors of the declared averages of superheat and subcooling, K. */
  errors: number[];
  /** Delay of the first declaration after the true settling (and the floor), s. */
  delays: number[];
  missed: number;
  settlings: number;
  /** Declared intervals that held the true mean; counted at the declaration and each 2 min after. */
  covered: number;
  intervals: number;
  noticed: number[];
  events: number;
  falseAlarms: number;
  /** Error of the time-left forecast, s, and its 90 % intervals that held. */
  forecastErrors: number[];
  forecastsHeld: number;
  forecasts: number;
}

export function emptyScore(): Score {
  return {
    sessions: 0,
    declarations: 0,
    wrong: 0,
    brief: 0,
    briefWrong: 0,
    wrongIn: [],
    errors: [],
    delays: [],
    missed: 0,
    settlings: 0,
    covered: 0,
    intervals: 0,
    noticed: [],
    events: 0,
    falseAlarms: 0,
    forecastErrors: [],
    forecastsHeld: 0,
    forecasts: 0,
  };
}

/** The sums of several scores. */
export function mergeScores(scores: readonly Score[]): Score {
  const sum = (pick: (s: Score) => number): number => scores.reduce((a, s) => a + pick(s), 0);
  return {
    sessions: sum((s) => s.sessions),
    declarations: sum((s) => s.declarations),
    wrong: sum((s) => s.wrong),
    brief: sum((s) => s.brief),
    briefWrong: sum((s) => s.briefWrong),
    wrongIn: scores.flatMap((s) => s.wrongIn),
    errors: scores.flatMap((s) => s.errors),
    delays: scores.flatMap((s) => s.delays),
    missed: sum((s) => s.missed),
    settlings: sum((s) => s.settlings),
    covered: sum((s) => s.covered),
    intervals: sum((s) => s.intervals),
    noticed: scores.flatMap((s) => s.noticed),
    events: sum((s) => s.events),
    falseAlarms: sum((s) => s.falseAlarms),
    forecastErrors: scores.flatMap((s) => s.forecastErrors),
    forecastsHeld: sum((s) => s.forecastsHeld),
    forecasts: sum((s) => s.forecasts),
  };
}

/** An event not come yet; come into a stillness and not yet noticed; done with. */
type Notice = 'ahead' | 'open' | 'past';

/** What is held against a method. */
export interface Case {
  readonly name: string;
  readonly frames: readonly Frame[];
  readonly truth: Truth;
  readonly specs: readonly QuantitySpec[];
}

/** Runs a method over a case and adds what came of it. */
export function scoreCase(score: Score, item: Case, method: Method, minimumRun: number): void {
  const means = new TrueMeans(item.truth);
  const episodes = episodesOf(item.truth, means);
  score.sessions += 1;
  const first = new Map<Episode, number>();
  const waits = new Map<Episode, { t: number; left: NonNullable<Verdict['timeLeft']> }[]>();
  let wasStill = false;
  let declaredAt: number | null = null;
  let wasDisturbed = false;
  let lastInterval = -Infinity;
  let lastWait = -Infinity;
  const unnoticed = new Map<number, Notice>();
  for (const e of item.truth.events) if (isSudden(item.truth, e.at)) unnoticed.set(e.at, 'ahead');
  for (const frame of item.frames) {
    const verdict = method.push(frame);
    const { t } = frame;
    const episode = episodes.find((e) => t > e.from && t <= e.to);
    if (episode !== undefined) {
      // An average declared anew within one stillness is a declaration like any other.
      const anew = verdict.declaredAt !== null && verdict.declaredAt !== declaredAt;
      if (verdict.still && (!wasStill || anew)) {
        if (!first.has(episode) && startsHere(episode, t)) first.set(episode, t);
        holdAgainst(score, item, means, episode, t, verdict);
      }
      if (verdict.still && verdict.halfWidths !== null && t - lastInterval >= 120) {
        if (cover(score, means, episode, t, verdict)) lastInterval = t;
      }
      if (!verdict.still && verdict.timeLeft !== null && t - lastWait >= 60) {
        const list = waits.get(episode) ?? [];
        list.push({ t, left: verdict.timeLeft });
        waits.set(episode, list);
        lastWait = t;
      }
    }
    noteEvents(score, item, frame, verdict, wasStill, wasDisturbed, unnoticed);
    wasStill = verdict.still;
    declaredAt = verdict.declaredAt;
    wasDisturbed = verdict.disturbed;
  }
  for (const episode of episodes) closeEpisode(score, minimumRun, episode, first, waits);
}

/** Only what moves some quantity by its tolerance within ten seconds can be asked to be noticed. */
function isSudden(truth: Truth, at: number): boolean {
  return truth.series.some((series, q) => {
    const before = series[Math.round(at)] ?? NaN;
    const after = series[Math.round(at) + SUDDEN_S] ?? NaN;
    return Math.abs(after - before) > (TOLERANCES[q] ?? 1);
  });
}

/** The seconds in which an event may go unnoticed still belong to what was called before it. */
function startsHere(episode: Episode, t: number): boolean {
  return !episode.afterEvent || t > episode.from + SUDDEN_S;
}

/**
 * Holds a declaration against the true mean of the next five minutes. Where the run or the session
 * ends sooner, it is held against what is left (a minute at least) and counted apart.
 */
function holdAgainst(
  score: Score,
  item: Case,
  means: TrueMeans,
  episode: Episode,
  t: number,
  verdict: Verdict,
): void {
  if (t + BRIEF_S > episode.to || !startsHere(episode, t)) return;
  const brief = t + HORIZON_S > episode.to;
  let worst = 0;
  for (const q of [SUPERHEAT, SUBCOOLING]) {
    const error =
      (verdict.declared[q] ?? NaN) - means.mean(q, t, Math.min(t + means.ahead(), episode.to));
    if (Number.isNaN(error)) continue;
    if (!brief) score.errors.push(Math.abs(error));
    worst = Math.max(worst, Math.abs(error));
  }
  const wrong = worst > FALSE_BEYOND;
  if (brief) {
    score.brief += 1;
    if (wrong) score.briefWrong += 1;
    return;
  }
  score.declarations += 1;
  if (!wrong) return;
  score.wrong += 1;
  score.wrongIn.push(`${item.name} at ${Math.round(t)} s by ${(worst * 1.8).toFixed(1)} °F`);
}

function cover(
  score: Score,
  means: TrueMeans,
  episode: Episode,
  t: number,
  verdict: Verdict,
): boolean {
  if (t + means.ahead() > episode.to) return false;
  for (const q of [SUPERHEAT, SUBCOOLING]) {
    const expected = verdict.expected?.[q] ?? NaN;
    const half = verdict.halfWidths?.[q] ?? NaN;
    if (Number.isNaN(expected)) continue;
    score.intervals += 1;
    if (Math.abs(expected - means.mean(q, t, t + means.ahead())) <= half) score.covered += 1;
  }
  return true;
}

function noteEvents(
  score: Score,
  item: Case,
  frame: Frame,
  verdict: Verdict,
  wasStill: boolean,
  wasDisturbed: boolean,
  unnoticed: Map<number, Notice>,
): void {
  const { t } = frame;
  for (const event of item.truth.events) {
    const seen = unnoticed.get(event.at);
    if (seen === undefined || t < event.at) continue;
    // At its first frame it is decided whether there was a stillness to disturb.
    if (seen === 'ahead') {
      unnoticed.set(event.at, wasStill ? 'open' : 'past');
      if (wasStill) score.events += 1;
    }
    if (unnoticed.get(event.at) !== 'open') continue;
    if (verdict.disturbed && t <= event.at + NOTICED_WITHIN) {
      score.noticed.push(t - event.at);
      unnoticed.set(event.at, 'past');
    }
  }
  if (!verdict.disturbed || wasDisturbed || !wasStill) return;
  const edges = [...item.truth.events.map((e) => e.at), ...item.truth.runs.map((r) => r.to)];
  const known = edges.some((at) => t >= at - 1 && t <= at + 180);
  if (!known) score.falseAlarms += 1;
}

function closeEpisode(
  score: Score,
  minimumRun: number,
  episode: Episode,
  first: Map<Episode, number>,
  waits: Map<Episode, { t: number; left: NonNullable<Verdict['timeLeft']> }[]>,
): void {
  const declared = first.get(episode);
  if (declared !== undefined) {
    for (const { t, left } of waits.get(episode) ?? []) {
      if (t >= declared) continue;
      const actual = declared - t;
      score.forecastErrors.push(Math.abs(left.seconds - actual));
      score.forecasts += 1;
      if (actual >= left.from - 10 && actual <= left.to + 10) score.forecastsHeld += 1;
    }
  }
  if (episode.settled === null) return;
  const due = Math.max(episode.settled, Math.max(0, episode.runFrom) + minimumRun);
  if (due + MISSED_AFTER / 2 > episode.to) return;
  score.settlings += 1;
  if (declared === undefined || declared > due + MISSED_AFTER) score.missed += 1;
  else score.delays.push(declared - due);
}

/** Value below which a share of the numbers lies; NaN with none. */
export function quantile(numbers: readonly number[], share: number): number {
  const sorted = [...numbers].sort((a, b) => a - b);
  return sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))] ?? NaN;
}

/** One number to tune by: false calls cost most, then delay, then missed rest. */
export function objective(score: Score): number {
  const wrong = score.wrong / Math.max(1, score.declarations);
  const missed = score.missed / Math.max(1, score.settlings);
  const delay = score.delays.reduce((a, d) => a + Math.min(600, Math.abs(d)), 0);
  return 3000 * wrong + 1200 * missed + delay / Math.max(1, score.delays.length);
}
