import { fail, ok, type Result } from '../../core/result.ts';
import { failure, type Failure } from '../bridge/errors.ts';
import type { JobView } from '../bridge/views.ts';
import type { JobFile } from '../jobfile/types.ts';
import { guarded } from './guarded.ts';
import { jobView } from './job-views.ts';
import type { Program } from './program.ts';

/** The commands about jobs: which there are, and which is open. */
export function handleJobs(program: Program): void {
  const { handlers, jobs, live } = program;
  const show = (job: JobFile): JobView => jobView(job, live.running);

  /** Another job may be opened only when nothing is being recorded into this one. */
  const leave = async (): Promise<Failure | null> => {
    if (live.running !== null) return failure('SESSION_RUNNING');
    await program.review?.close();
    program.review = null;
    return null;
  };
  /** Puts a job in the place of the present one, or says why not. */
  const change = async <T extends JobFile | null>(
    open: () => Result<T, Failure>,
  ): Promise<Result<T extends null ? null : JobView, Failure>> => {
    const busy = await leave();
    if (busy !== null) return fail(busy);
    const opened = guarded(open);
    if (!opened.ok) return opened;
    const view = opened.value === null ? null : show(opened.value);
    if (view !== null) program.hub.emit('job', view);
    return ok(view as T extends null ? null : JobView);
  };

  handlers.handle('job.list', () => guarded(() => ok(jobs.list())));
  handlers.handle('job.create', (args) => change(() => jobs.create(args)));
  handlers.handle('job.open', ({ file }) => change(() => jobs.open(file)));
  handlers.handle('job.import', async (args) => {
    // Only the last piece opens anything; the others may come while a session runs.
    if (args.last) return change(() => jobs.import(args));
    const added = guarded(() => jobs.import(args));
    return added.ok ? ok(null) : added;
  });
  handlers.handle('job.current', () => ok(jobs.current === null ? null : show(jobs.current)));
  handlers.handle('job.close', async () => {
    const busy = await leave();
    if (busy !== null) return fail(busy);
    jobs.close();
    program.jobChanged();
    return ok(null);
  });
  handlers.handle('visit.list', ({ unit }) =>
    guarded(() => {
      if (jobs.current === null) return fail(failure('NO_JOB'));
      const visits = jobs.earlierVisits(unit);
      return visits === null ? fail(failure('UNKNOWN_UNIT', { unit })) : ok(visits);
    }),
  );
}
