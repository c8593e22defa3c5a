import { describe, expect, it } from 'vitest';
import { createEngine } from '../../../core/engine.ts';
import type { EngineState } from '../../../core/engine-types.ts';
import { refrigerant } from '../../../core/refrigerant/refrigerants.ts';
import type { Sample } from '../../../core/stream/sample.ts';
import { kelvin } from '../../../core/units/brands.ts';
import type { SessionView } from '../../../electron/bridge/views.ts';
import {
  createStandingFollower,
  standingKey,
  standingNow,
} from '../../../renderer/store/standing.ts';
import { testConfig } from '../../support/session.ts';

const INDOORS = 297;
const OUTDOORS = 300;
const KEY = standingKey('live', 'A');

function saturationAt(t: number): number {
  const p = refrigerant('R-410A').dewPressure(kelvin(t));
  if (!p.ok) throw new Error('outside the range');
  return p.value;
}

/** The states of a unit that is off, one a second, its two pressures as told. */
function statesOf(seconds: number, low: (t: number) => number, high: (t: number) => number) {
  const engine = createEngine(testConfig());
  const states: EngineState[] = [];
  for (let t = 0; t <= seconds; t += 1) {
    const samples: Sample[] = [
      { channel: 'suctionPressure', t, value: low(t) },
      { channel: 'liquidPressure', t, value: high(t) },
      { channel: 'outdoorAirTemp', t, value: OUTDOORS },
      { channel: 'returnAirTemp', t, value: INDOORS },
      { channel: 'compressorCurrent', t, value: 0 },
    ];
    engine.push(samples);
    states.push(engine.state());
  }
  return states;
}

function viewOf(state: EngineState, sessionId = 's1'): SessionView {
  return {
    role: 'live',
    sessionId,
    origin: '2026-01-01T00:00:00Z',
    source: { kind: 'simulated', label: 'test' },
    capabilities: [],
    health: { state: 'running', alert: null },
    playback: null,
    units: [{ unit: 'A', config: testConfig(), state, pattern: null, stood: null, questions: [] }],
    overflow: 0,
  };
}

describe('the standing check on the screen', () => {
  it('judges two pressures that stand at saturation, once they were seen to rest', () => {
    const p = saturationAt(INDOORS);
    const follower = createStandingFollower();
    const states = statesOf(
      180,
      () => p,
      () => p,
    );
    const verdicts = states.map((state) => {
      const rates = follower.take(viewOf(state))[KEY] ?? null;
      const outcome = standingNow(state, testConfig(), rates);
      return outcome?.ok === true ? outcome.value.verdict : 'refused';
    });
    expect(verdicts[30]).toBeNull();
    expect(verdicts.at(-1)).toBe('agrees');
  });

  it('says how far apart two pressures still are, and for how long', () => {
    const p = saturationAt(INDOORS);
    const follower = createStandingFollower();
    const apart = (t: number): number => 4e5 * Math.exp(-t / 200);
    const states = statesOf(
      240,
      (t) => p - apart(t),
      (t) => p + apart(t),
    );
    const last = states
      .map((state) => standingNow(state, testConfig(), follower.take(viewOf(state))[KEY] ?? null))
      .at(-1);
    if (last?.ok !== true) throw new Error('refused');
    expect(last.value.equalising.state).toBe('equalising');
    expect(last.value.equalising.timeLeft).toBeGreaterThan(60);
    expect(last.value.verdict).toBeNull();
  });

  it('begins anew in another session and after a seek back', () => {
    const p = saturationAt(INDOORS);
    const states = statesOf(
      180,
      () => p,
      () => p,
    );
    const follower = createStandingFollower();
    const rates = states.map((state) => follower.take(viewOf(state))[KEY]);
    expect(rates.at(-1)?.low).not.toBeNull();
    expect(follower.take(viewOf(states[10]!))[KEY]?.low).toBeNull();
    for (const state of states) follower.take(viewOf(state));
    expect(follower.take(viewOf(states[180]!, 's2'))[KEY]?.low).toBeNull();
  });

  it('forgets a session that was closed', () => {
    const p = saturationAt(INDOORS);
    const follower = createStandingFollower();
    const [state] = statesOf(
      0,
      () => p,
      () => p,
    );
    expect(Object.keys(follower.take(viewOf(state!)))).toEqual([KEY]);
    expect(follower.drop('review')).toHaveProperty([KEY]);
    expect(follower.drop('live')).toEqual({});
  });
});
