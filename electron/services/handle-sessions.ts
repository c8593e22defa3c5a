import { fail, ok, type Result } from '../../core/result.ts';
import type { CommandArgs } from '../bridge/commands.ts';
import { failure, type Failure } from '../bridge/errors.ts';
import type { Capability, Source, SteerableSource } from '../sources/source.ts';
import type { ManualSource } from '../sources/manual.ts';
import { jobView } from './job-views.ts';
import { typedValues } from './manual-values.ts';
import type { Program } from './program.ts';
import { isSteerable } from './steerable.ts';

type Role = CommandArgs<'session.current'>['role'];

/** The commands about the session being recorded, and those that steer either kind. */
export function handleSessions(program: Program): void {
  const { handlers, live, jobs, planner, tables } = program;

  handlers.handle('source.list', () => ok(planner.rows()));
  handlers.handle('scenario.list', () => ok(planner.scenarios()));
  handlers.handle('csv.load', (piece) => tables.add(piece));
  handlers.handle('session.start', ({ source }) => live.start(source));
  handlers.handle('session.resume', ({ session }) => live.resume(session));
  handlers.handle('session.stop', async () => {
    if (live.running === null) return fail(failure('NO_SESSION'));
    await live.stop();
    return ok(null);
  });
  handlers.handle('session.seal', ({ session }) => {
    const job = jobs.current;
    if (job === null) return fail(failure('NO_JOB'));
    const open = job.sessions().find((s) => s.session.id === session && s.session.endedAt === null);
    if (open === undefined) return fail(failure('UNKNOWN_SESSION', { session }));
    if (session === live.running) return fail(failure('SESSION_RUNNING'));
    job.sealSession(session, program.actor());
    program.jobChanged();
    return ok(jobView(job, live.running));
  });
  handlers.handle('session.current', ({ role }) =>
    ok((role === 'live' ? live.runner : program.review)?.view() ?? null),
  );
  handlers.handle('snapshot.take', (args) => live.snapshot(args));
  handlers.handle('manual.enter', ({ values }) => enter(program, values));
  handlers.handle('trend.query', ({ role, unit, ...query }) => {
    const trends =
      role === 'live' ? live.runner?.tracker(unit)?.trends : program.review?.trends(unit);
    if (trends !== undefined) return ok(trends.query(query));
    const isOpen = role === 'live' ? live.runner !== null : program.review !== null;
    return fail(isOpen ? failure('UNKNOWN_UNIT', { unit }) : failure('NO_SESSION'));
  });

  steer(program, 'playback.play', 'play', (source) => source.play());
  steer(program, 'playback.pause', 'play', (source) => source.pause());
  steer(program, 'playback.seek', 'seek', (source, { position }) => source.seek(position));
  steer(program, 'playback.speed', 'speed', (source, { speed }) => source.setSpeed(speed));
}

type Steering = 'playback.play' | 'playback.pause' | 'playback.seek' | 'playback.speed';

const ACTIONS: Readonly<Record<Steering, string>> = {
  'playback.play': 'play',
  'playback.pause': 'pause',
  'playback.seek': 'jump',
  'playback.speed': 'change its speed',
};

/** Registers a command that steers the time of a source, where the source is able to. */
function steer<C extends Steering>(
  program: Program,
  name: C,
  needs: Capability,
  fn: (source: SteerableSource, args: CommandArgs<C>) => void,
): void {
  program.handlers.handle(name, (args): Result<null, Failure> => {
    const { role } = args;
    const source = sourceOf(program, role);
    if (source === null) return fail(failure('NO_SESSION'));
    // A recording goes one way: jumping is for its replay.
    const able = source.capabilities.includes(needs) && !(role === 'live' && needs === 'seek');
    if (!able || !isSteerable(source)) {
      return fail(failure('NOT_STEERABLE', { action: ACTIONS[name] }));
    }
    fn(source, args);
    return ok(null);
  });
}

function sourceOf(program: Program, role: Role): Source | null {
  return (role === 'live' ? program.live.runner : program.review)?.source ?? null;
}

function enter(
  program: Program,
  values: CommandArgs<'manual.enter'>['values'],
): Result<null, Failure> {
  const { runner } = program.live;
  if (runner === null) return fail(failure('NO_SESSION'));
  if (!isManual(runner.source))
    return fail(failure('NOT_STEERABLE', { action: 'take typed numbers' }));
  const atmosphere = runner.session.units[0]?.config.atmosphere.pressure;
  if (atmosphere === undefined) return fail(failure('NO_SESSION'));
  const typed = typedValues(values, atmosphere);
  if (!typed.ok) return typed;
  runner.source.enter(typed.value);
  return ok(null);
}

function isManual(source: Source): source is ManualSource {
  return source.capabilities.includes('enter');
}
