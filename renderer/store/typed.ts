import { useMemo } from 'react';
import type { FigureKey, Reading } from '../../core/circuit/types.ts';
import { liveContent } from '../../core/diagnosis/live-content.ts';
import type { EngineConfig, EngineState } from '../../core/engine-types.ts';
import { isUnheard } from '../app/text.ts';
import { useConfig, useEngine } from './context.ts';
import type { Role } from './store.ts';

/** Whether the readings of a unit were typed by a person: nothing in them tells of stillness. */
export function isTyped(config: EngineConfig): boolean {
  return config.marks.includes('typedByHand');
}

/**
 * A figure as it stands now: the engine's; of typed readings, which come one by one and seldom,
 * that of the values typed last.
 */
export function useFigure(role: Role, unit: string, figure: FigureKey): Reading | null {
  const config = useConfig(role, unit);
  const typed = config !== null && isTyped(config);
  const read = useEngine(role, unit, (s) => s.figures[figure] ?? null);
  const state = useEngine(role, unit, (s) => (typed ? s : null));
  return useMemo(() => {
    if (read !== null || state === null || config === null) return read;
    return liveContent(state, config)?.figures[figure] ?? null;
  }, [read, state, config, figure]);
}

/** Values were typed of a unit that does not plainly stand: they say nothing of its stillness. */
export function useOnlyTyped(role: Role, unit: string): boolean {
  const config = useConfig(role, unit);
  return useEngine(role, unit, (s) => config !== null && isOnlyTyped(s, config)) === true;
}

function isOnlyTyped(state: EngineState, config: EngineConfig): boolean {
  const said = isUnheard(state) || state.steadiness.state !== 'idle';
  return isTyped(config) && said && Object.keys(state.channels).length > 0;
}
