import { z } from 'zod';
import { UNIT_SYSTEMS } from '../../core/units/systems.ts';
import { CHANNEL_KEYS } from '../../core/stream/channels.ts';
import { AnswersSchema } from '../../core/record/answers.ts';
import { FINDING_KINDS, SiteSchema, UnitSchema } from '../../core/record/job.ts';
import { ReviewWordSchema } from '../../core/record/review.ts';
import { EngineConfigSchema } from '../../core/record/session.ts';
import type { SnapshotRecord } from '../../core/record/snapshot.ts';
import type {
  AppInfo,
  CsvSummary,
  EarlierVisit,
  JobRow,
  JobView,
  Recomputed,
  ScenarioRow,
  SensorsView,
  SessionView,
  Settings,
  SourceRow,
  TrendLine,
  VerifyRow,
} from './views.ts';

const none = z.strictObject({});
const role = z.enum(['live', 'review']);
const channelKey = z.enum(CHANNEL_KEYS);
const sensorId = z.string().min(1).max(128);
const sensorKey = z.string().min(1).max(128);
const settings = z.strictObject({
  units: z.enum(UNIT_SYSTEMS),
  author: z.string().max(200),
  sound: z.boolean(),
});

/** Which source a session listens to. */
const sourceChoice = z.discriminatedUnion('kind', [
  z.strictObject({
    kind: z.literal('simulated'),
    scenario: z.string().max(200),
    speed: z.number().min(1).max(1000),
  }),
  z.strictObject({
    kind: z.literal('file'),
    csv: z.string().max(200),
    unit: z.string(),
    speed: z.number().min(1).max(1000),
  }),
  z.strictObject({ kind: z.literal('manual'), unit: z.string() }),
  z.strictObject({ kind: z.literal('radio') }),
]);

/**
 * The command map: a zod schema of the arguments each. The same map runs over Electron IPC and the
 * loopback WebSocket. Results are in {@link CommandResults}; failures are `Failure` data.
 */
export const COMMANDS = {
  'app.info': none,
  'settings.get': none,
  'settings.set': settings,
  'source.list': none,
  'scenario.list': none,
  'job.list': none,
  'job.create': z.strictObject({
    title: z.string().min(1).max(200),
    site: SiteSchema,
    complaint: z.string().max(5000),
    units: z.array(UnitSchema).max(16),
  }),
  /** A file name inside the jobs folder, or an absolute path. */
  'job.open': z.strictObject({ file: z.string().min(1).max(4096) }),
  /** A whole job file from the browser, in base64 pieces; the last one opens it. */
  'job.import': z.strictObject({
    upload: z.string().max(100),
    name: z.string().min(1).max(255),
    base64: z.string().max(8_000_000),
    last: z.boolean(),
  }),
  'job.current': none,
  'job.close': none,
  'job.update': z.strictObject({
    title: z.string().min(1).max(200),
    site: SiteSchema,
    complaint: z.string().max(5000),
  }),
  /** Readings at rest of this unit in other jobs of the folder. */
  'visit.list': z.strictObject({ unit: z.string().max(16) }),
  'unit.save': z.strictObject({ unit: UnitSchema }),
  'finding.add': z.strictObject({
    unit: z.string().nullable(),
    kind: z.enum(FINDING_KINDS),
    text: z.string().max(5000),
  }),
  'note.add': z.strictObject({ text: z.string().min(1).max(20_000) }),
  /** What no sensor tells of a unit, all of it. */
  'answers.save': z.strictObject({ unit: z.string().min(1).max(16), answers: AnswersSchema }),
  /** A reviewer's word on a snapshot of the open job. */
  'snapshot.review': ReviewWordSchema,
  /** A table from the browser, `size` bytes in pieces of text, counted from 0; the last is answered. */
  'csv.load': z.strictObject({
    upload: z.string().max(100),
    piece: z.number().int().min(0),
    name: z.string().max(255),
    size: z.number().int().min(0),
    text: z.string().max(4_000_000),
    last: z.boolean(),
  }),
  'session.start': z.strictObject({ source: sourceChoice }),
  'session.stop': none,
  'session.current': z.strictObject({ role }),
  /** Go on with a session whose recording broke off. */
  'session.resume': z.strictObject({ session: z.string() }),
  /** Close a session that broke off, as it is. */
  'session.seal': z.strictObject({ session: z.string() }),
  /** Numbers typed from gauges and thermometers; each with the unit symbol it was typed in. */
  'manual.enter': z.strictObject({
    values: z
      .array(z.strictObject({ channel: channelKey, value: z.number(), unit: z.string() }))
      .min(1),
  }),
  'snapshot.take': z.strictObject({
    unit: z.string(),
    label: z.string().max(200),
    note: z.string().max(5000),
  }),
  'trend.query': z.strictObject({
    role,
    unit: z.string(),
    /** Channel keys and figure keys. */
    keys: z.array(z.string().max(64)).min(1).max(32),
    from: z.number(),
    to: z.number(),
    points: z.number().int().min(16).max(2000),
  }),
  'review.open': z.strictObject({ session: z.string() }),
  'review.close': none,
  'review.verify': none,
  'review.recompute': z.strictObject({ unit: z.string(), config: EngineConfigSchema }),
  'playback.play': z.strictObject({ role }),
  'playback.pause': z.strictObject({ role }),
  'playback.seek': z.strictObject({ role, position: z.number().min(0) }),
  'playback.speed': z.strictObject({ role, speed: z.number().min(1).max(1000) }),
  /** Asked once a second by who looks at the sensors; the radio runs while it is asked. */
  'sensors.watch': z.strictObject({ scan: z.boolean() }),
  'sensors.add': z.strictObject({ id: sensorId, name: z.string().min(1).max(80).nullable() }),
  'sensors.rename': z.strictObject({ id: sensorId, name: z.string().min(1).max(80) }),
  'sensors.forget': z.strictObject({ id: sensorId }),
  /** To a channel of a unit, or to none; a pressure with what it counts from. */
  'sensors.assign': z.strictObject({
    id: sensorId,
    key: sensorKey,
    to: z.strictObject({ unit: z.string().min(1).max(16), channel: channelKey }).nullable(),
    reference: z.enum(['gauge', 'absolute']).nullable(),
  }),
  /** The key of encrypted broadcasts. */
  'sensors.secret': z.strictObject({
    id: sensorId,
    bindKey: z
      .string()
      .regex(/^[0-9a-fA-F]{32}$/, 'must be 32 hexadecimal digits')
      .nullable(),
  }),
  /** The text of a description file, or none. */
  'sensors.describe': z.strictObject({ id: sensorId, text: z.string().max(200_000).nullable() }),
  /** Sets the zero of a gauge that is open to the air, or takes it away. */
  'sensors.zero': z.strictObject({ id: sensorId, key: sensorKey, on: z.boolean() }),
  'sensors.retry': z.strictObject({ id: sensorId }),
} as const satisfies Record<string, z.ZodType>;

export type CommandName = keyof typeof COMMANDS;
/** The arguments of a command: whoever calls it may hand over what it must not change. */
export type CommandArgs<C extends CommandName> = DeepReadonly<z.infer<(typeof COMMANDS)[C]>>;

type DeepReadonly<T> = T extends readonly (infer U)[]
  ? readonly DeepReadonly<U>[]
  : T extends object
    ? { readonly [K in keyof T]: DeepReadonly<T[K]> }
    : T;

/** The result of each command when it succeeds. */
export interface CommandResults {
  'app.info': AppInfo;
  'settings.get': Settings;
  'settings.set': Settings;
  'source.list': readonly SourceRow[];
  'scenario.list': readonly ScenarioRow[];
  'job.list': readonly JobRow[];
  'job.create': JobView;
  'job.open': JobView;
  'job.import': JobView | null;
  'job.current': JobView | null;
  'job.close': null;
  'job.update': JobView;
  'visit.list': readonly EarlierVisit[];
  'unit.save': JobView;
  'finding.add': JobView;
  'note.add': JobView;
  'answers.save': JobView;
  'snapshot.review': JobView;
  'csv.load': CsvSummary | null;
  'session.start': SessionView;
  'session.stop': null;
  'session.current': SessionView | null;
  'session.resume': SessionView;
  'session.seal': JobView;
  'manual.enter': null;
  'snapshot.take': SnapshotRecord;
  'trend.query': readonly TrendLine[];
  'review.open': SessionView;
  'review.close': null;
  'review.verify': readonly VerifyRow[];
  'review.recompute': Recomputed;
  'playback.play': null;
  'playback.pause': null;
  'playback.seek': null;
  'playback.speed': null;
  'sensors.watch': SensorsView;
  'sensors.add': SensorsView;
  'sensors.rename': SensorsView;
  'sensors.forget': SensorsView;
  'sensors.assign': SensorsView;
  'sensors.secret': SensorsView;
  'sensors.describe': SensorsView;
  'sensors.zero': SensorsView;
  'sensors.retry': SensorsView;
}
