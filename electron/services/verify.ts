import { createEngine } from '../../core/engine.ts';
import type { Engine } from '../../core/engine-types.ts';
import type { SnapshotRecord } from '../../core/record/snapshot.ts';
import type { VerifyRow } from '../bridge/views.ts';
import { createSampleHash, type SampleHash } from '../jobfile/sample-hash.ts';
import type { JobFile } from '../jobfile/types.ts';
import { firstDifference } from './first-difference.ts';
import { refusalText } from './refusal-text.ts';

/** What is needed of a job to verify it. */
export type VerifiableJob = Pick<JobFile, 'snapshots' | 'samples'>;

/**
 * Recomputes every stored snapshot from the samples it came from: whether the samples are those it
 * was taken of (their number and hash), and whether the engine comes to the same numbers to the
 * last bit. One pass through the samples for all snapshots of a unit with the same assumptions.
 *
 * @returns a row for each snapshot, in the order in which they are stored
 */
export function verifyJob(job: VerifiableJob): VerifyRow[] {
  const snapshots = job.snapshots();
  const groups = new Map<string, SnapshotRecord[]>();
  for (const snapshot of snapshots) {
    const key = JSON.stringify([snapshot.sessionId, snapshot.unit, snapshot.config]);
    groups.set(key, [...(groups.get(key) ?? []), snapshot]);
  }
  const rows = new Map<string, VerifyRow>();
  for (const group of groups.values()) {
    for (const row of verifyGroup(job, group)) rows.set(row.snapshotId, row);
  }
  return snapshots.flatMap(({ id }) => rows.get(id) ?? []);
}

/** Snapshots of one unit in one session under one set of assumptions. */
function verifyGroup(job: VerifiableJob, group: readonly SnapshotRecord[]): VerifyRow[] {
  const waiting = [...group].sort((a, b) => a.sampleCount - b.sampleCount);
  const [first] = waiting;
  if (first === undefined) return [];
  const engine = createEngine(first.config);
  const hash = createSampleHash();
  const rows: VerifyRow[] = [];
  let count = 0;
  const judgeUpTo = (): void => {
    while (waiting[0]?.sampleCount === count) {
      rows.push(judge(waiting[0], engine, hash));
      waiting.shift();
    }
  };

  judgeUpTo();
  for (const chunk of job.samples(first.sessionId, first.unit)) {
    let at = 0;
    while (at < chunk.length && waiting[0] !== undefined) {
      const part = chunk.slice(at, at + waiting[0].sampleCount - count);
      engine.push(part);
      for (const sample of part) hash.add(sample);
      at += part.length;
      count += part.length;
      judgeUpTo();
    }
    if (waiting.length === 0) break;
  }
  return [...rows, ...waiting.map((snapshot) => missing(snapshot, count))];
}

function judge(snapshot: SnapshotRecord, engine: Engine, hash: SampleHash): VerifyRow {
  const samplesAgree = hash.digest() === snapshot.sampleHash;
  const again = engine.snapshot();
  const difference = again.ok
    ? firstDifference(snapshot.content, again.value)
    : `the same samples give no snapshot: ${refusalText(again.error)}`;
  const said = [
    ...(samplesAgree ? [] : ['the samples are not those the snapshot was taken of']),
    ...(difference === null ? [] : [difference]),
  ];
  return {
    ...nameOf(snapshot),
    samplesAgree,
    numbersAgree: difference === null,
    detail: said.length === 0 ? null : said.join('; '),
  };
}

function missing(snapshot: SnapshotRecord, count: number): VerifyRow {
  const detail = `the snapshot was taken of ${snapshot.sampleCount} samples, only ${count} are there`;
  return { ...nameOf(snapshot), samplesAgree: false, numbersAgree: false, detail };
}

function nameOf({ id, label, unit }: SnapshotRecord) {
  return { snapshotId: id, label, unit };
}
