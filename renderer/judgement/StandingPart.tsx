import { useEffect, useState, type ReactNode } from 'react';
import { createStandingWatch, type StandingWatch } from '../../core/checks/standing-watch.ts';
import { standing } from '../../core/checks/standing.ts';
import { standingRefusalText, standingText } from '../../core/diagnosis/standing-text.ts';
import { liveContent } from '../../core/diagnosis/live-content.ts';
import { freshChannel } from '../../core/diagnosis/conditions.ts';
import type { EngineConfig, EngineState } from '../../core/engine-types.ts';
import { useUnits } from '../store/context.ts';

interface Props {
  readonly state: EngineState;
  readonly config: EngineConfig;
}

/** While the unit is off: equalising, then the standing pressure against the surroundings. */
export function StandingPart({ state, config }: Props): ReactNode {
  const system = useUnits();
  const watches = useWatches(state);
  if (state.steadiness.state !== 'idle') return null;
  const content = liveContent(state, config);
  if (content === null) return null;
  const air = ['outdoorAirTemp', 'returnAirTemp'] as const;
  const outcome = standing({
    refrigerant: config.refrigerant,
    running: false,
    low: freshChannel(content, 'suctionPressure'),
    high: freshChannel(content, 'liquidPressure') ?? freshChannel(content, 'dischargePressure'),
    lowRate: watches.low.read()?.rate ?? null,
    highRate: watches.high.read()?.rate ?? null,
    surroundings: air.map((key) => freshChannel(content, key)).filter((t) => t !== null),
    offFor: state.t === null ? null : state.t - state.steadiness.since,
  });
  const lines = outcome.ok
    ? standingText(outcome.value, config.atmosphere.pressure, system)
    : [standingRefusalText(outcome.error)];
  return (
    <section aria-label="Standing check">
      <h3>Standing check</h3>
      <ul className="compare-lines">
        {lines.map((line) => (
          <li key={line}>{line}</li>
        ))}
      </ul>
    </section>
  );
}

/** Follows both pressures for as long as the part is on the screen. */
function useWatches(state: EngineState): {
  readonly low: StandingWatch;
  readonly high: StandingWatch;
} {
  const [watches] = useState(() => ({ low: createStandingWatch(), high: createStandingWatch() }));
  const low = state.channels.suctionPressure?.value ?? null;
  const high =
    state.channels.liquidPressure?.value ?? state.channels.dischargePressure?.value ?? null;
  useEffect(() => {
    if (state.t === null) return;
    if (low !== null) watches.low.push(state.t, low);
    if (high !== null) watches.high.push(state.t, high);
  }, [watches, state.t, low, high]);
  return watches;
}
