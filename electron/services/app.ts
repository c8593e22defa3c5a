import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { ok } from '../../core/result.ts';
import { createHandlers, type Handlers } from '../bridge/handlers.ts';
import { createHub, type Hub, type HubEvent } from '../bridge/hub.ts';
import type { AppInfo } from '../bridge/views.ts';
import type { Actor } from '../jobfile/types.ts';
import { createRadio, type Radio } from '../radio/radio.ts';
import { registerSensorCommands } from '../radio/sensor-commands.ts';
import type { RadioSpawner } from '../radio/spawner.ts';
import { systemClock, type Clock } from '../clock.ts';
import { CsvStore } from './csv-store.ts';
import { atmosphereOf } from './engine-config.ts';
import { handleJobs } from './handle-jobs.ts';
import { handleRecord } from './handle-record.ts';
import { handleReview } from './handle-review.ts';
import { handleSessions } from './handle-sessions.ts';
import { Jobs } from './jobs.ts';
import { jobView } from './job-views.ts';
import { LiveSession } from './live-session.ts';
import { createLog, type Log } from './log.ts';
import { pathsFrom, type Paths } from './paths.ts';
import { createPlanner } from './planner.ts';
import type { Program } from './program.ts';
import { createScenarios } from './scenarios.ts';
import { createSettings } from './settings.ts';
import type { SourcePlanner } from './source-planner.ts';

/** The program without a window: what both hosts and the tests run. */
export interface Services {
  readonly paths: Paths;
  readonly log: Log;
  readonly handlers: Handlers;
  readonly hub: Hub;
  /** The events that tell a new client how things stand. */
  readonly greet: () => readonly HubEvent[];
  /** Ends what runs and brings everything to the disk. */
  close(): Promise<void>;
}

interface ServicesOptions {
  readonly host: AppInfo['host'];
  /** Folder of the program. */
  readonly root: string;
  readonly env: NodeJS.ProcessEnv;
  /** Starts the radio process; what it writes on its error output goes to `log`. */
  readonly spawnRadio: (log: (text: string) => void) => RadioSpawner;
  readonly clock?: Clock;
  /** Makes sources; a test hands in its own. */
  readonly planner?: SourcePlanner;
}

/**
 * Builds the program: every command of the bridge gets its one handler here.
 *
 * @throws Error when the data folder cannot be made or a command has no handler
 */
export function createServices(options: ServicesOptions): Services {
  const paths = pathsFrom(options.env);
  const version = versionOf(options.root);
  const program = createProgram(options, paths, version);
  const { handlers, hub, log, settings } = program;

  handlers.handle('app.info', () => ok({ version, host: options.host, jobsFolder: paths.jobs }));
  handlers.handle('settings.get', () => ok(settings.get()));
  handlers.handle('settings.set', (args) => ok(settings.set(args)));
  handleJobs(program);
  handleRecord(program);
  handleSessions(program);
  handleReview(program);
  registerSensorCommands(handlers, program.radio);
  const missing = handlers.missing();
  if (missing.length > 0) throw new Error(`commands without a handler: ${missing.join(', ')}`);

  return {
    paths,
    log,
    handlers,
    hub,
    greet: () => greetingsOf(program),
    async close() {
      await program.live.stop();
      await program.review?.close();
      await program.radio.close();
      program.jobs.close();
    },
  };
}

function createProgram(options: ServicesOptions, paths: Paths, version: string): Program {
  const clock = options.clock ?? systemClock;
  const log = createLog(paths.log, clock);
  const hub = createHub(log.error);
  const settings = createSettings(paths.settings, (why) => log.error('settings', why));
  const actor = (): Actor => ({
    author: settings.get().author,
    at: new Date(clock.now()).toISOString(),
  });
  const jobs = new Jobs(paths.jobs, actor);
  const tables = new CsvStore(clock);
  const radio = radioOf(options, paths, jobs, clock, log);
  const scenarios = createScenarios(join(options.root, 'fixtures/scenarios'), log.error);
  const planner = options.planner ?? createPlanner({ clock, tables, radio, scenarios });
  const jobChanged = (): void => {
    const job = jobs.current;
    hub.emit('job', job === null ? null : jobView(job, live.running));
  };
  const live: LiveSession = new LiveSession({
    job: () => jobs.current,
    planner,
    clock,
    hub,
    actor,
    units: () => settings.get().units,
    version,
    jobChanged,
    report: log.error,
  });
  return {
    clock,
    hub,
    handlers: createHandlers(log.error),
    log,
    settings,
    jobs,
    tables,
    planner,
    live,
    radio,
    review: null,
    actor,
    jobChanged,
  };
}

function radioOf(
  options: ServicesOptions,
  paths: Paths,
  jobs: Jobs,
  clock: Clock,
  log: Log,
): Radio {
  const site = () => jobs.current?.head().site ?? { name: '', address: '', altitude_m: null };
  return createRadio({
    folder: paths.sensors,
    spawn: options.spawnRadio((text) => log.info(`radio: ${text.trimEnd()}`)),
    atmosphere: () => atmosphereOf(site()),
    modeOf: (unit) => jobs.current?.units().find((u) => u.key === unit)?.mode ?? 'cooling',
    wallClock: () => new Date(clock.now()).toISOString(),
  });
}

function greetingsOf(program: Program): readonly HubEvent[] {
  const { jobs, live, review } = program;
  const job = jobs.current;
  return [
    { name: 'job', payload: job === null ? null : jobView(job, live.running) },
    live.runner === null
      ? { name: 'sessionClosed', payload: { role: 'live' } }
      : { name: 'session', payload: live.runner.view() },
    review === null
      ? { name: 'sessionClosed', payload: { role: 'review' } }
      : { name: 'session', payload: review.view() },
  ];
}

function versionOf(root: string): string {
  const text = readFileSync(join(root, 'package.json'), 'utf8');
  return (JSON.parse(text) as { version: string }).version;
}
