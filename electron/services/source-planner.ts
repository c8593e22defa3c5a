import type { Result } from '../../core/result.ts';
import type { EngineConfig } from '../../core/engine-types.ts';
import type { JobHead, Unit } from '../../core/record/job.ts';
import type { Session, SourceKind } from '../../core/record/session.ts';
import type { UnitKey } from '../../core/stream/sample.ts';
import type { CommandArgs } from '../bridge/commands.ts';
import type { Failure } from '../bridge/errors.ts';
import type { ScenarioRow, SourceRow } from '../bridge/views.ts';
import type { Source } from '../sources/source.ts';

/** What a person chose to listen to. */
export type SourceChoice = CommandArgs<'session.start'>['source'];

/** What is known of the job when a source is chosen. */
export interface JobFacts {
  readonly head: JobHead;
  readonly units: readonly Unit[];
}

/** A source ready to start, and the session it makes. */
export interface SourcePlan {
  readonly source: Source;
  readonly kind: SourceKind;
  readonly label: string;
  /** What was left out of it or cannot be used: kept in the record, for who reviews it. */
  readonly notes?: readonly string[];
  /** Wall-clock time of t = 0 where the source has one of its own (a logged file). */
  readonly origin: string | null;
  readonly units: readonly { readonly unit: UnitKey; readonly config: EngineConfig }[];
  /** Units the source speaks of that the job does not have yet. */
  readonly newUnits: readonly Unit[];
  /** What the person should know about it. */
  readonly notices: readonly string[];
}

/** Makes sources. */
export interface SourcePlanner {
  rows(): readonly SourceRow[];
  /** The scenarios that can be simulated. */
  scenarios(): readonly ScenarioRow[];
  plan(choice: SourceChoice, job: JobFacts): Result<SourcePlan, Failure>;
  /**
   * A source that goes on with a session whose recording broke off.
   *
   * @param at session time at which it begins, s
   */
  resume(session: Session, at: number, job: JobFacts): Result<Source, Failure>;
}
