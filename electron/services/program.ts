import type { Handlers } from '../bridge/handlers.ts';
import type { Hub } from '../bridge/hub.ts';
import type { Actor } from '../jobfile/types.ts';
import type { Radio } from '../radio/radio.ts';
import type { Clock } from '../clock.ts';
import type { CsvStore } from './csv-store.ts';
import type { Jobs } from './jobs.ts';
import type { LiveSession } from './live-session.ts';
import type { Log } from './log.ts';
import type { ReviewSession } from './review-session.ts';
import type { SettingsStore } from './settings.ts';
import type { SourcePlanner } from './source-planner.ts';

/** The parts that command handlers work on. */
export interface Program {
  readonly clock: Clock;
  readonly hub: Hub;
  readonly handlers: Handlers;
  readonly log: Log;
  readonly settings: SettingsStore;
  readonly jobs: Jobs;
  readonly tables: CsvStore;
  readonly planner: SourcePlanner;
  readonly live: LiveSession;
  readonly radio: Radio;
  /** The session under review, if any. */
  review: ReviewSession | null;
  readonly actor: () => Actor;
  /** Tells the screens how the job stands. */
  readonly jobChanged: () => void;
}
