import { useEffect, useMemo, useState } from 'react';
import type { EarlierVisit } from '../../electron/bridge/views.ts';
import { useApp, useServices } from '../store/context.ts';
import type { Role } from '../store/store.ts';
import type { Judged } from './asked.ts';
import { otherReferences, ownReferences, takenAt, type Reference } from './references.ts';

/** What the readings of a unit may be held against. */
export interface References {
  /** The same unit at other times. */
  readonly own: readonly Reference[];
  /** Like units. */
  readonly others: readonly Reference[];
}

const NONE: readonly EarlierVisit[] = [];

/** The references of what is judged; those of earlier visits come in when the host has looked. */
export function useReferences(unit: string, judged: Judged, role: Role | null): References {
  const job = useApp((s) => s.job);
  const session = useApp((s) => (role === null ? null : s[role]));
  const earlier = useEarlierVisits(unit);
  const { config } = judged;
  const except = judged.snapshot?.id ?? null;
  return useMemo(
    () => ({
      own: ownReferences({ unit, config, except }, job, earlier),
      others: otherReferences({ unit, config }, job, session),
    }),
    [unit, config, except, job, session, earlier],
  );
}

/** When what is judged was taken, s on the clock of its session; null where that is unknown. */
export function useTakenAt(judged: Judged, role: Role | null): number | null {
  const job = useApp((s) => s.job);
  const origin = useApp((s) => (role === null ? null : (s[role]?.origin ?? null)));
  const { snapshot, state } = judged;
  if (snapshot !== null) {
    const kept = job?.snapshots.find((s) => s.id === snapshot.id);
    return kept === undefined ? null : takenAt(kept, job);
  }
  if (origin === null || state === null || state.t === null) return null;
  return Date.parse(origin) / 1000 + state.t;
}

function useEarlierVisits(unit: string): readonly EarlierVisit[] {
  const { bridge } = useServices();
  const id = useApp((s) => s.job?.head.id ?? null);
  const [visits, setVisits] = useState(NONE);
  useEffect(() => {
    let wanted = true;
    void bridge.call('visit.list', { unit }).then((result) => {
      // A unit that the job does not describe has no earlier visit: that is no fault to report.
      if (wanted) setVisits(result.ok ? result.value : NONE);
    });
    return () => {
      wanted = false;
    };
  }, [bridge, unit, id]);
  return visits;
}
