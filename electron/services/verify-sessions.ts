import { z } from 'zod';
import { createSampleHash } from '../jobfile/sample-hash.ts';
import type { JobFile, StreamSeal } from '../jobfile/types.ts';

/** Whether the samples of one unit in one ended session are those it ended with. */
export interface SealRow {
  readonly session: string;
  readonly unit: string;
  readonly samplesAgree: boolean;
  /** What differs, in words; null where all agrees. */
  readonly detail: string | null;
}

const endSchema = z.object({
  id: z.string(),
  streams: z.array(z.object({ unit: z.string(), sampleCount: z.number(), sampleHash: z.string() })),
});

/**
 * Compares the samples of every ended session with the seal its end left in the log. A session that
 * has not ended has none and gets no row.
 */
export function verifySessions(job: Pick<JobFile, 'log' | 'samples'>): SealRow[] {
  return job
    .log()
    .filter((entry) => entry.what === 'session.ended' || entry.what === 'session.sealed')
    .flatMap((entry) => {
      const end = endSchema.safeParse(entry.detail).data;
      return (end?.streams ?? []).map((seal) => check(job, end?.id ?? '', seal));
    });
}

function check(job: Pick<JobFile, 'samples'>, session: string, seal: StreamSeal): SealRow {
  const hash = createSampleHash();
  let count = 0;
  for (const chunk of job.samples(session, seal.unit)) {
    for (const sample of chunk) hash.add(sample);
    count += chunk.length;
  }
  const detail =
    count !== seal.sampleCount
      ? `the session ended with ${seal.sampleCount} samples, ${count} are there`
      : hash.digest() !== seal.sampleHash
        ? 'samples were changed after the session ended'
        : null;
  return { session, unit: seal.unit, samplesAgree: detail === null, detail };
}
