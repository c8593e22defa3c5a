import { describe, expect, it } from 'vitest';
import { judge } from '../../../../core/checks/running.ts';
import { runPattern } from '../../../../core/checks/run-pattern.ts';
import type { RunPattern } from '../../../../core/diagnosis/types.ts';
import { createEngine } from '../../../../core/engine.ts';
import { ok } from '../../../../core/result.ts';
import type { Sample } from '../../../../core/stream/sample.ts';
import type { SessionView } from '../../../../electron/bridge/views.ts';
import type { SourcePlanner } from '../../../../electron/services/source-planner.ts';
import { NO_ANSWERS } from '../../../../core/record/answers.ts';
import { inputFor } from '../../../../renderer/judgement/asked.ts';
import { FakeClock } from '../../../support/fake-clock.ts';
import { FakeSource } from '../../../support/fake-source.ts';
import { testJob } from '../../../support/job.ts';
import { startProgram } from '../../../support/program.ts';
import { drawnSession, testConfig } from '../../../support/session.ts';

const CYCLE_S = 240;
const REST_S = 60;
const CYCLES = 6;

/** A compressor that runs three minutes of every four. */
function cycling(): Sample[] {
  const one = drawnSession({
    seed: 3,
    duration: CYCLE_S,
    rate: 1,
    tau: 25,
    start: REST_S,
    noise: 0.05,
  });
  return Array.from({ length: CYCLES }, (_, i) =>
    one.map((sample) => ({ ...sample, t: sample.t + i * CYCLE_S })),
  ).flat();
}

/** The program with a live session that has seen all those samples. */
async function watched() {
  const clock = new FakeClock();
  const source = new FakeSource('radio');
  const config = testConfig();
  const planner: SourcePlanner = {
    rows: () => [],
    scenarios: () => [],
    plan: () =>
      ok({
        source,
        kind: 'radio',
        label: 'test sensors',
        origin: null,
        units: [{ unit: 'A', config }],
        newUnits: [],
        notices: [],
      }),
    resume: () => ok(source),
  };
  const program = startProgram({ clock, planner });
  await program.must('job.create', testJob());
  const { sessionId } = await program.must('session.start', { source: { kind: 'radio' } });
  const samples = cycling();
  source.say('A', samples);
  return { ...program, clock, config, samples, sessionId };
}

function patternIn(view: SessionView | null): RunPattern | null {
  return view?.units[0]?.pattern ?? null;
}

describe('the run pattern of a session', () => {
  it('is the same live, under review and in a log that ends there', async () => {
    const { must, services, config, samples, sessionId } = await watched();
    const live = patternIn(await must('session.current', { role: 'live' }));
    expect(live?.starts).toBe(CYCLES);
    expect(live?.medianRun).toBeGreaterThan(CYCLE_S - REST_S - 30);
    expect(live?.medianRun).toBeLessThan(CYCLE_S - REST_S + 30);
    expect(live?.span).toBeGreaterThan(CYCLES * CYCLE_S - 5);

    const log = createEngine(config);
    log.push(samples);
    log.finish();
    expect(live).toMatchObject({ ...runPattern(log.spans()), span: live?.span });

    await must('session.stop', {});
    await must('review.open', { session: sessionId });
    expect(patternIn(await must('session.current', { role: 'review' }))).toBeNull();
    await must('playback.seek', { role: 'review', position: CYCLES * CYCLE_S });
    expect(patternIn(await must('session.current', { role: 'review' }))).toEqual(live);
    await must('playback.seek', { role: 'review', position: 2.5 * CYCLE_S });
    expect(patternIn(await must('session.current', { role: 'review' }))?.starts).toBe(3);
    await services.close();
  });

  it('makes the judgement of the present readings think of short cycling first', async () => {
    const { must, services } = await watched();
    const view = await must('session.current', { role: 'live' });
    const unit = view?.units[0];
    if (unit === undefined) throw new Error('no unit is watched');
    const odds = (pattern: RunPattern | null): number => {
      const { config, state } = unit;
      const judged = { config, state, snapshot: null, session: null, pattern, stood: null };
      const input = inputFor(judged, NO_ANSWERS, null, [], []);
      if (input === null) throw new Error('nothing was read');
      const { suspects } = judge(input).diagnosis;
      return suspects.find((s) => s.key === 'shortCycling')?.probability ?? 0;
    };
    expect(odds(unit.pattern)).toBeGreaterThan(5 * odds(null));
    await services.close();
  });
});
