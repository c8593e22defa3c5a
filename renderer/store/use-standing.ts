import { useMemo } from 'react';
import type { Standing, StandingRefusal } from '../../core/checks/standing.ts';
import type { Result } from '../../core/result.ts';
import { useApp, useConfig, useEngine } from './context.ts';
import { standingKey, standingNow } from './standing.ts';
import type { Role } from './store.ts';

/** The standing check of a unit as it stands now; null while it runs. */
export function useStanding(role: Role, unit: string): Result<Standing, StandingRefusal> | null {
  const state = useEngine(role, unit, (s) => (s.steadiness.state === 'idle' ? s : null));
  const config = useConfig(role, unit);
  const rates = useApp((s) => s.standing[standingKey(role, unit)] ?? null);
  return useMemo(
    () => (state === null || config === null ? null : standingNow(state, config, rates)),
    [state, config, rates],
  );
}
