import { meanAtRest } from '../../core/steadiness/rest.ts';
import type { Reason } from '../../core/steadiness/types.ts';
import type { ReactNode } from 'react';
import { Glyph } from '../app/Glyph.tsx';
import { clockText, durationText } from '../app/format.ts';
import { isWaiting, stateWord, WORTH_TEXT } from '../app/text.ts';
import { useConfig, useEngine, useUnits } from '../store/context.ts';
import type { Role } from '../store/store.ts';
import { useOnlyTyped } from '../store/typed.ts';
import { SOON_S } from './callout.ts';
import { reasonIn } from './reason.ts';

interface Props {
  readonly role: Role;
  readonly unit: string;
}

const TYPED =
  'Single readings do not show whether the unit is still. If you saw them stand still, say so under “What do they say?”.';

/** Still or moving, why, and how long yet. */
export function StateSlab({ role, unit }: Props): ReactNode {
  const state = useEngine(role, unit, (s) => s.steadiness.state);
  const reason = useEngine(role, unit, (s) => s.steadiness.reason);
  const typed = useOnlyTyped(role, unit);
  const system = useUnits();
  const config = useConfig(role, unit);
  if (state === null || reason === null || config === null) return null;
  const moving = state === 'hunting' && !meanAtRest({ state, reason });
  const worth = WORTH_TEXT[moving ? 'moving' : state];
  return (
    <section className="slab" data-state={state} aria-label="State">
      <p className="slab-word">
        <Glyph state={state} />
        <span>{typed ? 'Typed' : stateWord(state, reason)}</span>
      </p>
      <p className="slab-left">
        <HowLong role={role} unit={unit} />
      </p>
      <p className="slab-reason">{typed ? TYPED : reasonIn(reason, system, config.mode)}</p>
      <p className="slab-worth">{isWaiting(state, reason) ? ' ' : worth}</p>
    </section>
  );
}

function HowLong({ role, unit }: Props): ReactNode {
  const state = useEngine(role, unit, (s) => s.steadiness.state);
  const seconds = useEngine(role, unit, (s) => s.steadiness.timeLeft?.seconds ?? null);
  const from = useEngine(role, unit, (s) => s.steadiness.timeLeft?.from ?? null);
  const to = useEngine(role, unit, (s) => s.steadiness.timeLeft?.to ?? null);
  const least = useEngine(role, unit, (s) => leastLeft(s.steadiness.reason)) ?? 0;
  const age = useEngine(role, unit, (s) => (s.t === null ? 0 : s.t - s.steadiness.since)) ?? 0;
  if (state === 'settled' || state === 'hunting') {
    return (
      <>
        for <b>{clockText(age)}</b>
      </>
    );
  }
  if (state === 'idle' || state === 'blind') return ' ';
  if (seconds === null || from === null || to === null) {
    return least > 0 ? (
      <>
        not before <b>{durationText(least)}</b>
      </>
    ) : (
      'how long yet: cannot be told'
    );
  }
  if (seconds < SOON_S) return <>still any moment now, at most {durationText(to)}</>;
  return (
    <>
      still in about <b>{durationText(seconds)}</b>{' '}
      {durationText(from) !== durationText(to) && (
        <span className="slab-range">
          ({from < SOON_S ? 'now' : durationText(from)} to {durationText(to)})
        </span>
      )}
    </>
  );
}

/** What is left of the minimum run time, s, before which nothing is called still. */
function leastLeft(reason: Reason): number {
  return reason.code === 'minimumRun' ? Math.max(0, reason.minimum - reason.runTime) : 0;
}
