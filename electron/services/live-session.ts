import { randomUUID } from 'node:crypto';
import { fail, ok, type Result } from '../../core/result.ts';
import { SessionSchema, type Session } from '../../core/record/session.ts';
import type { SnapshotRecord } from '../../core/record/snapshot.ts';
import { reasonFormat, reasonText } from '../../core/steadiness/reason-text.ts';
import type { UnitSystem } from '../../core/units/systems.ts';
import type { CommandArgs } from '../bridge/commands.ts';
import { failure, type Failure } from '../bridge/errors.ts';
import { messageOf } from '../bridge/handlers.ts';
import type { Hub } from '../bridge/hub.ts';
import type { SessionView } from '../bridge/views.ts';
import type { Actor, JobFile, SessionRecorder } from '../jobfile/types.ts';
import type { Source } from '../sources/source.ts';
import type { Clock } from '../clock.ts';
import { refusalText } from './refusal-text.ts';
import { SessionRunner } from './session-runner.ts';
import type { SourceChoice, SourcePlan, SourcePlanner } from './source-planner.ts';
import type { Turn } from './unit-tracker.ts';

/** What the live session needs of the program around it. */
export interface LiveContext {
  readonly job: () => JobFile | null;
  readonly planner: SourcePlanner;
  readonly clock: Clock;
  readonly hub: Hub;
  readonly actor: () => Actor;
  readonly units: () => UnitSystem;
  readonly version: string;
  /** Tells the screens that the job has changed. */
  readonly jobChanged: () => void;
  readonly report: (what: string, error: unknown) => void;
}

interface Live {
  readonly runner: SessionRunner;
  readonly recorder: SessionRecorder;
  readonly job: JobFile;
}

/** The one session that is being recorded, if any. */
export class LiveSession {
  readonly #context: LiveContext;
  #live: Live | null = null;

  constructor(context: LiveContext) {
    this.#context = context;
  }

  get runner(): SessionRunner | null {
    return this.#live?.runner ?? null;
  }

  /** The id of the session being recorded. */
  get running(): string | null {
    return this.#live?.runner.session.id ?? null;
  }

  /** Starts a session from a source. */
  async start(choice: SourceChoice): Promise<Result<SessionView, Failure>> {
    const { clock, hub, planner, version } = this.#context;
    const job = this.#free();
    if (!job.ok) return job;
    const planned = planner.plan(choice, { head: job.value.head(), units: job.value.units() });
    if (!planned.ok) return planned;
    const plan = planned.value;
    const by = this.#context.actor();
    for (const unit of plan.newUnits) job.value.saveUnit(unit, by);
    const session = SessionSchema.parse({
      id: randomUUID(),
      origin: plan.origin ?? by.at,
      endedAt: null,
      source: { kind: plan.kind, label: plan.label, ...notesOf(plan) },
      units: plan.units,
      programVersion: version,
    });
    const recorder = job.value.startSession(session, by);
    const live = this.#build(job.value, session, plan.source, recorder, clock.now());
    for (const text of plan.notices) hub.emit('notice', { level: 'info', text });
    return this.#run(live);
  }

  /** Goes on with a session whose recording broke off; time goes on by the wall clock. */
  async resume(id: string): Promise<Result<SessionView, Failure>> {
    const { clock, planner } = this.#context;
    const free = this.#free();
    if (!free.ok) return free;
    const job = free.value;
    const stored = job.sessions().find((s) => s.session.id === id);
    if (stored === undefined || stored.session.endedAt !== null) {
      return fail(failure('UNKNOWN_SESSION', { session: id }));
    }
    const { session, duration_s } = stored;
    const sinceOrigin = (clock.now() - Date.parse(session.origin)) / 1000;
    const at = session.source.kind === 'file' ? duration_s : Math.max(duration_s, sinceOrigin);
    const source = planner.resume(session, at, { head: job.head(), units: job.units() });
    if (!source.ok) return source;
    const recorder = job.resumeSession(id, this.#context.actor());
    const live = this.#build(job, session, source.value, recorder, clock.now() - at * 1000);
    live.runner.resume(recordedSamples(job, session));
    return this.#run(live);
  }

  /**
   * Ends the session and brings all to the disk. Nothing to do where none runs.
   *
   * @throws Error when the disk says no; the session then stays unfinished
   */
  async stop(): Promise<void> {
    const live = this.#live;
    if (live === null) return;
    try {
      await live.runner.stop();
      live.recorder.end(this.#context.actor());
    } catch (error) {
      await this.#break(error);
      throw error;
    }
    this.#closed();
  }

  /** Takes a snapshot of a unit into the record. */
  snapshot(args: CommandArgs<'snapshot.take'>): Result<SnapshotRecord, Failure> {
    const live = this.#live;
    if (live === null) return fail(failure('NO_SESSION'));
    const tracker = live.runner.tracker(args.unit);
    if (tracker === undefined) return fail(failure('UNKNOWN_UNIT', { unit: args.unit }));
    const content = tracker.snapshot();
    if (!content.ok) {
      return fail(failure('SNAPSHOT_REFUSED', { detail: refusalText(content.error) }));
    }
    const by = this.#context.actor();
    const record: SnapshotRecord = {
      id: randomUUID(),
      sessionId: live.runner.session.id,
      unit: args.unit,
      takenAt: by.at,
      label: args.label,
      note: args.note,
      author: by.author,
      sourceKind: live.runner.session.source.kind,
      programVersion: this.#context.version,
      config: tracker.config,
      content: content.value,
      run: tracker.run(),
      // No sample can have come in between: nothing was awaited since the readings were taken.
      ...live.recorder.mark(args.unit),
    };
    live.job.addSnapshot(record);
    this.#context.jobChanged();
    return ok(record);
  }

  #free(): Result<JobFile, Failure> {
    if (this.#live !== null) return fail(failure('SESSION_RUNNING'));
    const job = this.#context.job();
    return job === null ? fail(failure('NO_JOB')) : ok(job);
  }

  #build(
    job: JobFile,
    session: Session,
    source: Source,
    recorder: SessionRecorder,
    startedAt: number,
  ): Live {
    const { clock, hub } = this.#context;
    const runner = new SessionRunner({
      session,
      source,
      recorder,
      clock,
      startedAt,
      events: {
        view: (view) => hub.emit('session', view),
        turn: (unit, turn) => this.#callOut(job, unit, turn),
        broken: (error) => void this.#break(error),
      },
    });
    return { runner, recorder, job };
  }

  async #run(live: Live): Promise<Result<SessionView, Failure>> {
    this.#live = live;
    try {
      await live.runner.start();
    } catch (error) {
      await this.#break(error);
      throw error;
    }
    this.#context.jobChanged();
    return ok(live.runner.view());
  }

  #callOut(job: JobFile, unit: string, { kind, mode, steadiness }: Turn): void {
    const name = job.units().find((u) => u.key === unit)?.name ?? '';
    const who = name === '' ? `Unit ${unit}` : `${unit} (${name})`;
    const format = reasonFormat(this.#context.units(), mode);
    const what =
      kind === 'disturbed'
        ? 'is no longer still'
        : steadiness.state === 'hunting'
          ? 'hunts about a mean that can be read'
          : 'is still';
    const text = `${who} ${what}. ${reasonText(steadiness.reason, format)}`;
    this.#context.hub.emit('callout', { unit, kind, text });
  }

  /** The recording cannot go on: the session stays unfinished, with all that is on the disk. */
  async #break(error: unknown): Promise<void> {
    const { hub, report } = this.#context;
    report('recording', error);
    const live = this.#live;
    if (live === null) return;
    hub.emit('notice', {
      level: 'error',
      text: `Recording has stopped: ${messageOf(error)}. What was recorded before is kept. Free space or reconnect the disk, then go on with the session.`,
    });
    try {
      await live.runner.stop();
    } catch (second) {
      report('stopping the source', second);
    }
    try {
      live.recorder.release();
    } catch (second) {
      report('letting go of the recording', second);
    }
    this.#closed();
  }

  #closed(): void {
    this.#live = null;
    this.#context.hub.emit('sessionClosed', { role: 'live' });
    this.#context.jobChanged();
  }
}

/** Everything recorded of a session, unit by unit, in order of arrival. */
function* recordedSamples(job: JobFile, session: Session) {
  for (const { unit } of session.units) {
    for (const samples of job.samples(session.id, unit)) yield { unit, samples };
  }
}

/** The notes on a source, where there are any: a record without them is as it always was. */
function notesOf({ notes = [] }: SourcePlan): { readonly notes?: readonly string[] } {
  return notes.length === 0 ? {} : { notes };
}
