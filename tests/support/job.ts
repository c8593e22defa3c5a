import { NO_ANSWERS, type Answers } from '../../core/record/answers.ts';
import { SessionSchema, type Session } from '../../core/record/session.ts';
import { newUnit, type JobHead, type Unit } from '../../core/record/job.ts';
import type { CommandArgs } from '../../electron/bridge/commands.ts';
import { testConfig } from './session.ts';

/** A unit for tests: R-410A, valve, cooling, nothing known of its nameplate. */
export function testUnit(overrides: Partial<Unit> = {}): Unit {
  return { ...newUnit('A'), name: 'Test unit', ...overrides };
}

/** The head of a job for tests. */
export function testHead(overrides: Partial<JobHead> = {}): JobHead {
  return {
    id: 'job-1',
    title: 'No cooling upstairs',
    site: { name: 'Test site', address: '1 Test Street', altitude_m: null },
    complaint: 'Warm since Monday.',
    createdAt: '2026-03-01T09:00:00Z',
    ...overrides,
  };
}

/** What a person told of a unit: nothing but the overrides. */
export function testAnswers(overrides: Partial<Answers> = {}): Answers {
  return { ...NO_ANSWERS, ...overrides };
}

/** A session of unit A for tests, still running. */
export function testSession(overrides: Partial<Session> = {}): Session {
  return SessionSchema.parse({
    id: 'session-1',
    origin: '2026-03-01T09:00:00Z',
    endedAt: null,
    source: { kind: 'simulated', label: 'Test' },
    units: [{ unit: 'A', config: testConfig() }],
    programVersion: '0.0.0',
    ...overrides,
  });
}

/** What a person fills in for a new job. */
export function testJob(
  overrides: Partial<CommandArgs<'job.create'>> = {},
): CommandArgs<'job.create'> {
  const { title, site, complaint } = testHead();
  return { title, site, complaint, units: [testUnit()], ...overrides };
}
