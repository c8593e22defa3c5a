import { standingOfContent, type StandingRates } from '../../core/checks/standing-of-content.ts';
import type { Standing, StandingRefusal } from '../../core/checks/standing.ts';
import { createStandingWatch, type StandingWatch } from '../../core/checks/standing-watch.ts';
import { liveContent } from '../../core/diagnosis/live-content.ts';
import type { EngineConfig, EngineState } from '../../core/engine-types.ts';
import type { Result } from '../../core/result.ts';
import type { SessionView } from '../../electron/bridge/views.ts';

/** The rates of every unit that is off, by `standingKey`. */
export type StandingBook = Readonly<Record<string, StandingRates>>;

type Role = SessionView['role'];

/** A unit of a session, as a key of the book. */
export function standingKey(role: Role, unit: string): string {
  return `${role} ${unit}`;
}

interface Followed {
  readonly session: string;
  readonly low: StandingWatch;
  readonly high: StandingWatch;
  t: number;
}

/** Times further apart than this are not one stretch: a seek, or a hole in the stream, s. */
const TORN_S = 120;

/** Follows the standing pressures of all sessions, whichever room is on the screen. */
export interface StandingFollower {
  /** Takes a session as it stands now and gives the book. */
  take(view: SessionView): StandingBook;
  /** Forgets a session. */
  drop(role: Role): StandingBook;
}

/** A follower that has seen nothing. */
export function createStandingFollower(): StandingFollower {
  const followed = new Map<string, Followed>();
  const book = (): StandingBook =>
    Object.fromEntries(
      [...followed].map(([key, { low, high }]) => [
        key,
        { low: low.read()?.rate ?? null, high: high.read()?.rate ?? null },
      ]),
    );
  return {
    take(view) {
      for (const { unit, state } of view.units) {
        const key = standingKey(view.role, unit);
        if (state.t === null || state.steadiness.state !== 'idle') {
          followed.delete(key);
          continue;
        }
        const known = followed.get(key);
        const goesOn =
          known?.session === view.sessionId && state.t >= known.t && state.t - known.t <= TORN_S;
        const now = goesOn ? known : fresh(view.sessionId);
        followed.set(key, now);
        push(now, state, state.t);
      }
      return book();
    },
    drop(role) {
      for (const key of followed.keys()) {
        if (key.startsWith(standingKey(role, ''))) followed.delete(key);
      }
      return book();
    },
  };
}

function fresh(session: string): Followed {
  return { session, low: createStandingWatch(), high: createStandingWatch(), t: NaN };
}

function push(followed: Followed, state: EngineState, t: number): void {
  // The same moment comes again with every change elsewhere in the session.
  if (t === followed.t) return;
  const low = state.channels.suctionPressure?.value ?? null;
  const high =
    state.channels.liquidPressure?.value ?? state.channels.dischargePressure?.value ?? null;
  if (low !== null) followed.low.push(t, low);
  if (high !== null) followed.high.push(t, high);
  followed.t = t;
}

/**
 * The standing check of a unit as it stands now.
 *
 * @returns null while it runs and before anything was read
 */
export function standingNow(
  state: EngineState,
  config: EngineConfig,
  rates: StandingRates | null,
): Result<Standing, StandingRefusal> | null {
  if (state.steadiness.state !== 'idle') return null;
  const content = liveContent(state, config);
  if (content === null || state.t === null) return null;
  const { reason } = state.steadiness;
  const offFor = reason.code === 'stopped' ? state.t - reason.at : null;
  return standingOfContent(content, config, rates ?? UNTOLD, offFor);
}

const UNTOLD: StandingRates = { low: null, high: null };
