import { fail, ok } from '../../core/result.ts';
import { failure } from '../bridge/errors.ts';
import type { Program } from './program.ts';
import { ReviewSession } from './review-session.ts';
import { verifyJob } from './verify.ts';

/** The commands of the reviewer. */
export function handleReview(program: Program): void {
  const { handlers, jobs, live, clock, hub, log } = program;

  const closeReview = async (): Promise<void> => {
    await program.review?.close();
    program.review = null;
  };

  handlers.handle('review.open', async ({ session: id }) => {
    const job = jobs.current;
    if (job === null) return fail(failure('NO_JOB'));
    const stored = job.sessions().find((s) => s.session.id === id);
    if (stored === undefined) return fail(failure('UNKNOWN_SESSION', { session: id }));
    // What is still being written has no end that could be replayed to.
    if (id === live.running) return fail(failure('SESSION_RUNNING'));
    await closeReview();
    const review = new ReviewSession({
      job,
      session: stored.session,
      clock,
      hub,
      report: log.error,
    });
    program.review = review;
    await review.start();
    return ok(review.view());
  });
  handlers.handle('review.close', async () => {
    await closeReview();
    return ok(null);
  });
  handlers.handle('review.verify', () =>
    jobs.current === null ? fail(failure('NO_JOB')) : ok(verifyJob(jobs.current)),
  );
  handlers.handle('review.recompute', ({ unit, config }) =>
    program.review === null ? fail(failure('NO_SESSION')) : program.review.recompute(unit, config),
  );
}
