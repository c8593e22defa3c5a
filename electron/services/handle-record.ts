import { randomUUID } from 'node:crypto';
import { fail, ok, type Result } from '../../core/result.ts';
import { failure, type Failure } from '../bridge/errors.ts';
import type { JobView } from '../bridge/views.ts';
import type { JobFile } from '../jobfile/types.ts';
import { guarded } from './guarded.ts';
import { jobView } from './job-views.ts';
import type { Program } from './program.ts';

/** The commands that write into the open job what people say. */
export function handleRecord(program: Program): void {
  const { handlers, jobs, live } = program;

  /** Changes the open job and tells everybody, unless something stands against it. */
  const edit = (
    change: (job: JobFile) => void,
    against: (job: JobFile) => Failure | null = () => null,
  ): Result<JobView, Failure> => {
    const job = jobs.current;
    if (job === null) return fail(failure('NO_JOB'));
    const done = guarded(() => {
      const refusal = against(job);
      if (refusal !== null) return fail(refusal);
      change(job);
      return ok(null);
    });
    if (!done.ok) return done;
    const view = jobView(job, live.running);
    program.hub.emit('job', view);
    return ok(view);
  };

  handlers.handle('job.update', (args) =>
    edit((job) => job.updateHead({ ...job.head(), ...args }, program.actor())),
  );
  handlers.handle('unit.save', ({ unit }) => edit((job) => job.saveUnit(unit, program.actor())));
  handlers.handle('finding.add', (args) =>
    edit((job) => job.addFinding({ id: randomUUID(), ...args, ...program.actor() })),
  );
  handlers.handle('note.add', ({ text }) =>
    edit((job) => job.addNote({ id: randomUUID(), text, ...program.actor() })),
  );
  handlers.handle('answers.save', ({ unit, answers }) =>
    edit(
      (job) => job.saveAnswers({ unit, answers, ...program.actor() }),
      (job) => (job.units().some((u) => u.key === unit) ? null : failure('UNKNOWN_UNIT', { unit })),
    ),
  );
  handlers.handle('snapshot.review', (word) =>
    edit(
      (job) => job.addReview({ id: randomUUID(), ...word, ...program.actor() }),
      (job) =>
        job.snapshots().some((s) => s.id === word.snapshot)
          ? null
          : failure('UNKNOWN_SNAPSHOT', { snapshot: word.snapshot }),
    ),
  );
}
