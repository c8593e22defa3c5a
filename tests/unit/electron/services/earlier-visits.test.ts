import { mkdtempSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { Unit } from '../../../../core/record/job.ts';
import type { SnapshotRecord } from '../../../../core/record/snapshot.ts';
import { Jobs } from '../../../../electron/services/jobs.ts';
import { testJob, testSession, testUnit } from '../../../support/job.ts';
import { testConfig } from '../../../support/session.ts';
import { contentOf } from '../../../support/snapshot.ts';

function snapshot(id: string, takenAt: string, state: 'settled' | 'moving'): SnapshotRecord {
  const config = testConfig();
  return {
    id,
    sessionId: 'session-1',
    unit: 'A',
    takenAt,
    label: id,
    note: '',
    author: 'A',
    sourceKind: 'radio',
    programVersion: '0',
    config,
    content: contentOf(new Map([['suctionLineTemp', 285]]), config, state),
    sampleCount: 0,
    sampleHash: '',
  };
}

const serial = (outdoorSerial: string): Unit => {
  const unit = testUnit();
  return { ...unit, nameplate: { ...unit.nameplate, outdoorSerial } };
};

/** A folder with jobs of earlier visits, and one of today that is open. */
function folder() {
  const jobs = new Jobs(mkdtempSync(join(tmpdir(), 'visits-')), () => ({
    author: 'A',
    at: '2026-06-01T12:00:00.000Z',
  }));
  const visit = (
    title: string,
    site: string,
    unit: Unit,
    snapshots: readonly SnapshotRecord[] = [],
  ): string => {
    const made = jobs.create(
      testJob({ title, site: { name: site, address: '', altitude_m: null }, units: [unit] }),
    );
    if (!made.ok) throw new Error(title);
    made.value.startSession(testSession(), { author: 'A', at: '' }).release();
    for (const one of snapshots) made.value.addSnapshot(one);
    return title;
  };
  return { jobs, visit };
}

const labels = (jobs: Jobs): string[] | undefined =>
  jobs.earlierVisits('A')?.map((v) => v.snapshot.label);

describe('earlier visits', () => {
  it('are the readings at rest of the same serial number, newest first', () => {
    const { jobs, visit } = folder();
    visit('May', 'North', serial('S 1'), [
      snapshot('before', '2026-05-01T10:00:00Z', 'moving'),
      snapshot('after', '2026-05-01T11:00:00Z', 'settled'),
    ]);
    visit('June', 'South', serial('s  1'), [snapshot('june', '2026-06-01T10:00:00Z', 'settled')]);
    visit('Other', 'North', serial('S 2'), [snapshot('other', '2026-06-02T10:00:00Z', 'settled')]);
    visit('Today', 'North', serial('S 1'), [snapshot('now', '2026-07-01T10:00:00Z', 'settled')]);
    expect(labels(jobs)).toEqual(['june', 'after']);
    jobs.close();
  });

  it('go by site and key where a serial number is unknown, and never by an empty site', () => {
    const { jobs, visit } = folder();
    visit('May', 'North roof', testUnit(), [snapshot('may', '2026-05-01T10:00:00Z', 'settled')]);
    visit('Nowhere', '', testUnit(), [snapshot('nowhere', '2026-05-02T10:00:00Z', 'settled')]);
    visit('Today', 'north  roof', serial('S 1'));
    expect(labels(jobs)).toEqual(['may']);
    visit('Blank', '', testUnit());
    expect(labels(jobs)).toEqual([]);
    expect(jobs.earlierVisits('B')).toBeNull();
    jobs.close();
    expect(jobs.earlierVisits('A')).toBeNull();
  });
});
