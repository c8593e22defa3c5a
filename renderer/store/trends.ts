import { useEffect, useState } from 'react';
import type { TrendLine } from '../../electron/bridge/views.ts';
import { useServices } from './context.ts';
import type { Role } from './store.ts';

/** Lines of one unit and the times they were asked for, s. */
export interface Trend {
  readonly lines: readonly TrendLine[];
  readonly from: number;
  /** The latest time that was asked for. */
  readonly now: number;
  /** End of the time axis: `now`, or later where little has been recorded yet. */
  readonly to: number;
}

/** Points asked for a line; the budget of a chart. */
const POINTS = 400;
const PERIOD_MS = 1000;
/** A chart begins no narrower than this, s. */
const SHORTEST = 120;
const EMPTY: Trend = { lines: [], from: 0, now: 0, to: SHORTEST };

/**
 * The trends of one unit, asked for at most once a second and only when time has moved.
 *
 * @param range seconds back from now, or null for all
 */
export function useTrend(
  role: Role,
  unit: string,
  keys: readonly string[],
  range: number | null,
): Trend {
  const { store, bridge } = useServices();
  const [trend, setTrend] = useState<Trend>(EMPTY);
  useEffect(() => {
    let gone = false;
    let busy = false;
    let asked = NaN;
    const ask = async () => {
      const view = store.getState()[role]?.units.find((u) => u.unit === unit);
      const t = view?.state.t ?? null;
      if (busy || t === null || t === asked || keys.length === 0) return;
      busy = true;
      asked = t;
      const from = range === null ? 0 : Math.max(0, t - range);
      const args = { role, unit, keys: [...keys], from, to: t, points: POINTS };
      const result = await bridge.call('trend.query', args);
      busy = false;
      if (gone || !result.ok) return;
      setTrend({ lines: result.value, from, now: t, to: Math.max(t, from + SHORTEST) });
    };
    void ask();
    const timer = setInterval(() => void ask(), PERIOD_MS);
    return () => {
      gone = true;
      clearInterval(timer);
    };
  }, [store, bridge, role, unit, keys, range]);
  return trend;
}
