import type { EngineConfig, SnapshotContent } from '../engine-types.ts';
import type { RunPattern, StoodStill } from '../diagnosis/types.ts';
import type { SourceKind } from './session.ts';

/** How a unit had run when a snapshot was taken: what the judgement needs beside the readings. */
export interface RunSoFar {
  /** Seconds since the compressor started; null where the start was not seen. */
  readonly runTime: number | null;
  readonly pattern: RunPattern | null;
  /** What it told while it stood still; absent from files of earlier versions. */
  readonly stood?: StoodStill | null;
}

/**
 * A snapshot as kept in the record: the readings, the assumptions, and what is needed to come to
 * the same numbers again: how many samples of the unit had been taken, and their hash.
 */
export interface SnapshotRecord {
  readonly id: string;
  readonly sessionId: string;
  readonly unit: string;
  readonly takenAt: string;
  readonly label: string;
  readonly note: string;
  readonly author: string;
  readonly sourceKind: SourceKind;
  readonly programVersion: string;
  readonly config: EngineConfig;
  readonly content: SnapshotContent;
  /** How the unit had run until then; absent from files of earlier versions. */
  readonly run?: RunSoFar;
  /** Samples of this unit in this session that came before it, in order of arrival. */
  readonly sampleCount: number;
  /** SHA-256 (hex) over those samples in their canonical form. */
  readonly sampleHash: string;
}
