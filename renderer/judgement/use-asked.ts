import { useCallback, useMemo } from 'react';
import { useApp, useServices } from '../store/context.ts';
import { NOTHING_YET, type Asked } from './asked.ts';

/**
 * The answers so far for one unit of the open job, and a function that changes some of them. They
 * outlast the sheet: a check takes a person away from the screen.
 */
export function useAsked(unit: string, heating: boolean): [Asked, (part: Partial<Asked>) => void] {
  const { store } = useServices();
  const key = `${useApp((s) => s.job?.head.id ?? '')} ${unit}`;
  const told = useApp((s) => s.asked[key]);
  const asked = useMemo(() => told ?? { ...NOTHING_YET, heatPump: heating }, [told, heating]);
  const change = useCallback(
    (part: Partial<Asked>) => {
      const before = store.getState().asked[key] ?? { ...NOTHING_YET, heatPump: heating };
      store.setState((s) => ({ asked: { ...s.asked, [key]: { ...before, ...part } } }));
    },
    [store, key, heating],
  );
  return [asked, change];
}
