import { verifySessions } from '../services/verify-sessions.ts';
import { verifyJob } from '../services/verify.ts';
import { readArgs } from './args.ts';
import { withJob } from './job-argument.ts';

/**
 * `replay JOB.stillpoint`: recomputes every stored snapshot from the samples it came from and says
 * whether samples and numbers agree to the last bit, and whether each ended session still holds the
 * samples it ended with. A disagreement is an answer, not an error.
 */
export function replay(args: readonly string[]): unknown {
  const { positionals } = readArgs(args, {});
  return withJob(positionals, 'replay', (job) => {
    const byId = new Map(job.snapshots().map((snapshot) => [snapshot.id, snapshot]));
    const snapshots = verifyJob(job).map((row) => ({
      id: row.snapshotId,
      label: row.label,
      unit: row.unit,
      session: byId.get(row.snapshotId)?.sessionId,
      takenAt: byId.get(row.snapshotId)?.takenAt,
      agrees: row.samplesAgree && row.numbersAgree,
      samplesAgree: row.samplesAgree,
      numbersAgree: row.numbersAgree,
      detail: row.detail,
    }));
    const seals = verifySessions(job);
    return {
      job: job.head().title,
      sessions: job.sessions().map(({ session, samples, duration_s }) => ({
        id: session.id,
        origin: session.origin,
        source: session.source.kind,
        label: session.source.label,
        unfinished: session.endedAt === null,
        samples,
        duration_s,
        units: seals
          .filter((seal) => seal.session === session.id)
          .map(({ unit, samplesAgree, detail }) => ({ unit, samplesAgree, detail })),
      })),
      agrees: snapshots.every((row) => row.agrees) && seals.every((seal) => seal.samplesAgree),
      snapshots,
    };
  });
}
