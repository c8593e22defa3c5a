import type { EngineConfig, SnapshotContent } from '../engine-types.ts';
import type { SourceKind } from './session.ts';

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
  /** Samples of this unit in this session that came before it, in order of arrival. */
  readonly sampleCount: number;
  /** SHA-256 (hex) over those samples in their canonical form. */
  readonly sampleHash: string;
}
