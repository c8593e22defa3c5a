import { meanAtRest } from '../../core/steadiness/rest.ts';
import type { JobHead, Unit } from '../../core/record/job.ts';
import type { SnapshotRecord } from '../../core/record/snapshot.ts';
import type { EarlierVisit } from '../bridge/views.ts';
import type { JobFile } from '../jobfile/types.ts';

/** What of a job tells whether a unit of it is the one at hand, and how it read then. */
export interface VisitFacts {
  readonly file: string;
  readonly head: JobHead;
  readonly units: readonly Unit[];
  readonly snapshots: readonly SnapshotRecord[];
}

/** The facts of a job, with only those snapshots that a later visit can be compared with. */
export function visitFacts(file: string, job: JobFile): VisitFacts {
  return {
    file,
    head: job.head(),
    units: job.units(),
    snapshots: job.snapshots().filter(({ content }) => meanAtRest(content)),
  };
}

/**
 * Readings at rest of one unit in other jobs, newest first. It is the same unit where the serial
 * number of the outdoor section is the same; where either is unknown, where site and key are.
 */
export function earlierVisits(
  now: { readonly head: JobHead; readonly unit: Unit },
  others: readonly VisitFacts[],
): EarlierVisit[] {
  const visits: EarlierVisit[] = [];
  for (const { file, head, units, snapshots } of others) {
    if (head.id === now.head.id) continue;
    const same = new Set(units.filter((u) => isSame(now, { head, unit: u })).map((u) => u.key));
    for (const snapshot of snapshots) {
      if (same.has(snapshot.unit)) visits.push({ file, title: head.title, snapshot });
    }
  }
  return visits.sort((a, b) => b.snapshot.takenAt.localeCompare(a.snapshot.takenAt));
}

interface Placed {
  readonly head: JobHead;
  readonly unit: Unit;
}

function isSame(a: Placed, b: Placed): boolean {
  const serials = [a, b].map(({ unit }) => plain(unit.nameplate.outdoorSerial));
  if (serials.every((serial) => serial !== '')) return serials[0] === serials[1];
  const sites = [a, b].map(({ head }) => plain(head.site.name));
  return sites[0] !== '' && sites[0] === sites[1] && a.unit.key === b.unit.key;
}

/** As people write the same thing on two days. */
function plain(text: string): string {
  return text.trim().toLowerCase().replaceAll(/\s+/g, ' ');
}
