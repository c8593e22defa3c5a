import { meanAtRest } from '../../core/steadiness/rest.ts';
import { liveContent } from '../../core/diagnosis/live-content.ts';
import type { EngineConfig, SnapshotContent } from '../../core/engine-types.ts';
import type { SnapshotRecord } from '../../core/record/snapshot.ts';
import type { EarlierVisit, JobView, SessionView } from '../../electron/bridge/views.ts';
import { dateText } from '../app/format.ts';

/** Readings that others may be held against: of this unit on another day, or of a like unit. */
export interface Reference {
  readonly id: string;
  readonly unit: string;
  /** Id of the session it was read in. */
  readonly session: string;
  /** What a person knows it by. */
  readonly text: string;
  readonly config: EngineConfig;
  readonly content: SnapshotContent;
  /** Seconds on the clock of its session, or of the wall where that is gone. */
  readonly takenAt: number;
}

const NO_SNAPSHOTS: readonly SnapshotRecord[] = [];

/** Whether two units are of one kind: only then do the readings of one say anything of the other. */
function isLike(a: EngineConfig, b: EngineConfig): boolean {
  return a.refrigerant === b.refrigerant && a.metering === b.metering && a.mode === b.mode;
}

function isAtRest(content: SnapshotContent): boolean {
  return meanAtRest(content);
}

/** When a snapshot was taken: by the time of its session, which a simulation may hurry through. */
export function takenAt(snapshot: SnapshotRecord, job: JobView | null): number {
  const origin = job?.sessions.find((s) => s.id === snapshot.sessionId)?.origin;
  return origin === undefined
    ? Date.parse(snapshot.takenAt) / 1000
    : Date.parse(origin) / 1000 + snapshot.content.window.to;
}

function ofSnapshot(snapshot: SnapshotRecord, job: JobView | null, text: string): Reference {
  const { id, unit, sessionId: session, config, content } = snapshot;
  return { id, unit, session, text, config, content, takenAt: takenAt(snapshot, job) };
}

/** The same unit at other times: in this job, then on earlier visits. Only of its kind, at rest. */
export function ownReferences(
  of: { readonly unit: string; readonly config: EngineConfig; readonly except: string | null },
  job: JobView | null,
  earlier: readonly EarlierVisit[],
): Reference[] {
  const own = (job?.snapshots ?? NO_SNAPSHOTS)
    .filter((s) => s.unit === of.unit && s.id !== of.except && isAtRest(s.content))
    .map((s) => ofSnapshot(s, job, `${s.label}, ${dateText(s.takenAt)}`));
  const visits = earlier.map(({ title, snapshot: s }) =>
    ofSnapshot(s, null, `${dateText(s.takenAt)}: ${s.label} (job “${title}”)`),
  );
  return [...own, ...visits].filter((reference) => isLike(reference.config, of.config));
}

/** Other units: as they stand now in the same session, then their snapshots in this job. */
export function otherReferences(
  of: { readonly unit: string; readonly config: EngineConfig },
  job: JobView | null,
  session: SessionView | null,
): Reference[] {
  const live = (session?.units ?? []).flatMap(({ unit, config, state }): Reference[] => {
    const content = unit === of.unit ? null : liveContent(state, config);
    if (content === null || session === null || !isAtRest(content)) return [];
    const taken = Date.parse(session.origin) / 1000 + content.window.to;
    const text = `${unit}: as it stands now`;
    const id = `now ${unit}`;
    return [{ id, unit, session: session.sessionId, text, config, content, takenAt: taken }];
  });
  const kept = (job?.snapshots ?? NO_SNAPSHOTS)
    .filter((s) => s.unit !== of.unit)
    .map((s) => ofSnapshot(s, job, `${s.unit}: ${s.label}, ${dateText(s.takenAt)}`));
  return [...live, ...kept].filter((reference) => isLike(reference.config, of.config));
}
