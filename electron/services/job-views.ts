import { statSync } from 'node:fs';
import { basename } from 'node:path';
import type { JobRow, JobView, SessionRow } from '../bridge/views.ts';
import type { JobFile, Refusal, StoredSession } from '../jobfile/types.ts';

/** The open job as the screens see it. `running` is the session that is being recorded now. */
export function jobView(job: JobFile, running: string | null): JobView {
  return {
    file: basename(job.path),
    head: job.head(),
    units: job.units(),
    sessions: job.sessions().map((stored) => sessionRow(stored, running)),
    snapshots: job.snapshots(),
    findings: job.findings(),
    notes: job.notes(),
    answers: job.answers(),
    reviews: job.reviews(),
    log: job.log(),
  };
}

function sessionRow(
  { session, samples, duration_s }: StoredSession,
  running: string | null,
): SessionRow {
  const unfinished = session.endedAt === null && session.id !== running;
  return { ...session, samples, duration_s, unfinished };
}

/** A row of the list of jobs. */
export function jobRow(path: string, job: JobFile): JobRow {
  const head = job.head();
  return {
    file: basename(path),
    title: head.title,
    site: head.site.name,
    modifiedAt: modifiedAt(path),
    sessions: job.sessions().length,
    snapshots: job.snapshots().length,
    refused: null,
  };
}

/** The row of a file that cannot be opened: it is shown with the reason, not hidden. */
export function refusedRow(path: string, refusal: Refusal): JobRow {
  return {
    file: basename(path),
    title: '',
    site: '',
    modifiedAt: modifiedAt(path),
    sessions: 0,
    snapshots: 0,
    refused: refusal.detail,
  };
}

function modifiedAt(path: string): string {
  return (statSync(path, { throwIfNoEntry: false })?.mtime ?? new Date(0)).toISOString();
}
