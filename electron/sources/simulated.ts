import type { Scenario } from '../../core/plant/scenario.ts';
import { createRun } from '../../core/plant/run.ts';
import type { Clock } from '../clock.ts';
import { PacedSource, type Timeline } from './paced-source.ts';
import type { SteerableSource } from './source.ts';

/** Plays the virtual plant; what came before `from` is played but not given out. */
function plantTimeline(scenario: Scenario, from: number): Timeline {
  const run = createRun(scenario);
  if (from > 0) run.advanceTo(from);
  return {
    duration: scenario.duration_s,
    until: (t) => run.advanceTo(t).filter(({ samples }) => samples.length > 0),
    done: () => run.t >= scenario.duration_s,
  };
}

/**
 * A virtual unit as a source. Its kind marks every session and record as SIMULATED. The same
 * scenario gives the same samples to the last bit, at whatever speed it is played.
 *
 * @param options.from plant time at which it begins, s: to go on with a session that broke off
 */
export function createSimulatedSource(options: {
  readonly scenario: Scenario;
  readonly speed: number;
  readonly clock: Clock;
  readonly from?: number;
}): SteerableSource {
  const from = Math.min(options.from ?? 0, options.scenario.duration_s);
  return new PacedSource({
    kind: 'simulated',
    capabilities: ['play', 'speed'],
    clock: options.clock,
    speed: options.speed,
    from,
    open: () => plantTimeline(options.scenario, from),
  });
}
